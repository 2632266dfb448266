import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createRandom, shuffle } from '@/lib/numerics/random';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { GroupFit } from '@/lib/stats/groupFit';
import { simulateRuns } from '@/test/lib/stats/runs';

const base = { cars: 6, sessions: 2, setups: 3, runs: 3, sdCar: 0.04, sdSession: 0.02, sdRun: 0.015, u: 0 };
const group = fc
  .record({ seed: fc.integer({ min: 1, max: 1e6 }), u: fc.constantFrom(0, 0.006) })
  .map(({ seed, u }): { rows: FitRow[]; seed: number } => ({
    rows: simulateRuns({ ...base, u }, seed),
    seed,
  }));
const draws = 400;
const settings = { numRuns: 15, seed: 77 };

function expectSame(found: GroupFit, wanted: GroupFit, shift = 0, scale = 1): void {
  found.estimates.forEach((estimate, k) => {
    const other = wanted.estimates[k];
    if (other === undefined) throw new Error('estimates differ in number');
    expect(Math.abs(estimate.beta - (scale * other.beta + shift))).toBeLessThan(1e-8);
    expect(Math.abs((estimate.se as number) / (scale * (other.se as number)) - 1)).toBeLessThan(1e-6);
    expect(Math.abs((estimate.df as number) / (other.df as number) - 1)).toBeLessThan(1e-5);
  });
  expect(found.ranks.map((r) => [r.lower, r.upper])).toEqual(wanted.ranks.map((r) => [r.lower, r.upper]));
}

describe('a fit does not depend on what it must not', { timeout: 30_000 }, () => {
  it('the order of the runs, to the last bit', () => {
    fc.assert(
      fc.property(group, ({ rows, seed }) => {
        const mixed = shuffle(rows, createRandom(seed));
        const { excluded: _, ...one } = fitGroup(rows, { draws });
        const { excluded: __, ...two } = fitGroup(mixed, { draws });
        // The counts' own means are summed in input order; everything fitted is the same to the last bit.
        expect(two.components).toEqual(one.components);
        expect(two.contrasts).toEqual(one.contrasts);
        expect(two.ranks).toEqual(one.ranks);
      }),
      settings,
    );
  });

  it('a shift of every value moves the estimates and nothing else', () => {
    fc.assert(
      fc.property(group, fc.double({ min: -3, max: 3, noNaN: true }), ({ rows }, shift) => {
        const moved = rows.map((row) => ({ ...row, z: row.z + shift }));
        expectSame(fitGroup(moved, { draws }), fitGroup(rows, { draws }), shift);
      }),
      settings,
    );
  });

  it('a change of unit on the plain scale multiplies all', () => {
    fc.assert(
      fc.property(group, fc.constantFrom(1e-3, 0.1, 62.1371, 1e4), ({ rows }, scale) => {
        const other = rows.map((row) => ({ ...row, z: scale * row.z, u: scale * row.u }));
        const [found, wanted] = [fitGroup(other, { draws }), fitGroup(rows, { draws })];
        found.estimates.forEach((estimate, k) => {
          const w = wanted.estimates[k];
          expect(Math.abs(estimate.beta / (scale * (w?.beta as number)) - 1)).toBeLessThan(1e-9);
          expect(Math.abs((estimate.se as number) / (scale * (w?.se as number)) - 1)).toBeLessThan(1e-6);
        });
      }),
      settings,
    );
  });

  it('the names of setups, cars and sessions', () => {
    fc.assert(
      fc.property(group, ({ rows }) => {
        // Names that sort the other way round.
        const flip = (name: string) => `${9 - Number(name.slice(-1))} ${name}`;
        const renamed = rows.map((row) => ({
          ...row,
          setup: flip(row.setup),
          car: flip(row.car),
          session: flip(row.session),
        }));
        const [found, wanted] = [fitGroup(renamed, { draws }), fitGroup(rows, { draws })];
        for (const estimate of wanted.estimates) {
          const other = found.estimates.find((e) => e.setup === flip(estimate.setup));
          expect(other?.beta).toBeCloseTo(estimate.beta, 9);
          expect(Math.abs((other?.se as number) / (estimate.se as number) - 1)).toBeLessThan(1e-6);
        }
        expect(Math.abs((found.remlCriterion as number) - (wanted.remlCriterion as number))).toBeLessThan(
          1e-7,
        );
      }),
      settings,
    );
  });

  it('doubling every run halves no component but narrows every interval', () => {
    fc.assert(
      fc.property(group, ({ rows }) => {
        const fit = fitGroup(rows, { draws });
        const twice = fitGroup(
          [...rows, ...rows.map((row) => ({ ...row, session: `${row.session} again` }))],
          {
            draws,
          },
        );
        for (const estimate of twice.estimates) {
          const other = fit.estimates.find((e) => e.setup === estimate.setup);
          expect(estimate.beta).toBeCloseTo(other?.beta as number, 2);
          expect(estimate.n).toBe(2 * (other?.n as number));
        }
        const se = (f: GroupFit) => Math.max(...f.contrasts.map((c) => c.se as number));
        expect(se(twice)).toBeLessThan(se(fit));
      }),
      settings,
    );
  });
});

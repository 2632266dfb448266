import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createRandom, drawNormal, shuffle } from '@/lib/numerics/random';
import type { Variances } from '@/lib/stats/accumulate';
import { evaluate } from '@/lib/stats/criterion';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { GroupFit } from '@/lib/stats/groupFit';
import { prepareFor, toScaled } from '@/lib/stats/problem';
import { columnsOf } from '@/lib/stats/runColumns';
import { readyColumns, readyRows, sessionSpread } from '@/lib/stats/sessionSpread';
import { spreadCovariance } from '@/lib/stats/spreadCovariance';
import { layOutColumns } from '@/lib/stats/structure';
import { denseSpread, sandwich, sessionOf, sharing } from './denseSandwich';
import { arbitraryRuns, simulateRuns } from './runs';

/** Small layouts whose runs share inputs of every scope, some of them unequally. */
const layouts = fc
  .record({ runs: arbitraryRuns(true), seed: fc.integer({ min: 1, max: 1e6 }) })
  .map(({ runs, seed }) => sharing(runs, seed));

const variances = fc.record({
  car: fc.constantFrom(0, 3e-4),
  carLoop: fc.constantFrom(0, 1e-4),
  session: fc.constantFrom(0, 2e-4),
  residual: fc.constantFrom(1e-5, 1e-4),
});

function correctionAt(rows: readonly FitRow[], v: Variances): { found: Float64Array; plain: Float64Array } {
  const ready = readyColumns(columnsOf(rows));
  const problem = prepareFor(layOutColumns(ready), v);
  const at = evaluate(problem, toScaled(problem, v), true);
  const plain = at.covariance.map((x) => x * problem.scale ** 2);
  const m = problem.structure.setups.length;
  const found = ready.spread === null ? new Float64Array(m * m) : spreadCovariance(problem, at, ready.spread);
  return { found, plain };
}

describe('what a session’s inputs do unequally to its runs', () => {
  // by hand: contributions 1 and 3 % of one input lie 1 % about their mean, so w = 2·(1 %)² = (1 %)²·2/(2 − 1)
  it('counts as if independent with n/(n − 1), so that two runs 2 % apart vary by √2 % each', () => {
    const row = { setup: 'a', car: 'k', session: 'd', z: 5, u: 0.01 };
    const shared = (contribution: number) => [{ key: 'climate', scope: 'car' as const, contribution }];
    const rows = [
      { ...row, shared: shared(0.01) },
      { ...row, shared: shared(0.03) },
      { ...row, session: 'e', shared: shared(0.05) },
    ];
    const { u, spread } = readyColumns(columnsOf(rows));
    expect(Array.from(u, (x) => x ** 2)).toEqual([
      expect.closeTo(3e-4, 14),
      expect.closeTo(3e-4, 14),
      expect.closeTo(1e-4, 14),
    ]);
    expect(Array.from(spread?.deviation ?? [])).toEqual([
      expect.closeTo(-0.01, 14),
      expect.closeTo(0.01, 14),
    ]);
    expect(readyRows(rows).map((ready) => ready.u)).toEqual(Array.from(u));
    expect(readyRows(rows).every((ready) => !('shared' in ready))).toBe(true);
  });

  it('is what the definition gives, and is made once', () => {
    fc.assert(
      fc.property(layouts, (rows) => {
        const ready = readyColumns(columnsOf(rows));
        const { w } = denseSpread(rows);
        rows.forEach(({ u }, i) => {
          expect(Math.abs((ready.u[i] as number) ** 2 - u * u - (w[i] as number))).toBeLessThan(1e-15);
        });
        expect(readyColumns(ready)).toBe(ready);
      }),
      { numRuns: 50 },
    );
  });
});

describe('the covariance of the estimates', { timeout: 60_000 }, () => {
  // the exact variance of a linear estimator, LVL' (JCGM 100:2008, 5.2.2), with N × N matrices of the test's own
  it('is the dense sandwich of the true covariance, for any layout', () => {
    fc.assert(
      fc.property(layouts, variances, (rows, v) => {
        const { correction, plain, truth } = sandwich(rows, v);
        const { found, plain: blockwise } = correctionAt(rows, v);
        const m = plain.length;
        const scale = Math.max(...plain.flat().map(Math.abs));
        for (let i = 0; i < m; i++) {
          for (let j = 0; j < m; j++) {
            const at = i * m + j;
            expect(Math.abs((found[at] as number) - (correction[i]?.[j] as number)) / scale).toBeLessThan(
              1e-9,
            );
            const total = (found[at] as number) + (blockwise[at] as number);
            expect(Math.abs(total - (truth[i]?.[j] as number)) / scale).toBeLessThan(1e-9);
          }
        }
        // a sandwich: no sum of estimates has a variance below 0
        for (let i = 0; i < m; i++) {
          for (let j = 0; j < i; j++) {
            const at = (a: number, b: number) =>
              (found[a * m + b] as number) + (blockwise[a * m + b] as number);
            expect(at(i, i) + at(j, j) - 2 * at(i, j)).toBeGreaterThanOrEqual(-1e-12 * scale);
          }
        }
      }),
      { numRuns: 60 },
    );
  });
});

const draws = 200;
const shape = {
  cars: 5,
  sessions: 3,
  setups: 3,
  runs: 4,
  sdCar: 0.015,
  sdSession: 0.012,
  sdRun: 0.008,
  u: 0.006,
};
const worlds = fc
  .integer({ min: 1, max: 1e6 })
  .map((seed) => ({ seed, rows: sharing(simulateRuns(shape, seed), seed) }));
const settings = { numRuns: 5, seed: 5 };

const without = ({ excluded: _, ...fit }: GroupFit) => fit;

function expectNear(found: GroupFit, wanted: GroupFit, named = (name: string) => name): void {
  for (const estimate of wanted.estimates) {
    const other = found.estimates.find(({ setup }) => setup === named(estimate.setup));
    expect(other?.beta).toBeCloseTo(estimate.beta, 9);
    expect(Math.abs((other?.se as number) / (estimate.se as number) - 1)).toBeLessThan(1e-7);
    expect(Math.abs((other?.df as number) / (estimate.df as number) - 1)).toBeLessThan(1e-6);
  }
}

describe('a fit of runs whose inputs differ within sessions', { timeout: 60_000 }, () => {
  it('does not hang on the order of the runs or on names', () => {
    fc.assert(
      fc.property(worlds, ({ rows, seed }) => {
        const fit = fitGroup(rows, { draws });
        expectNear(fitGroup(shuffle(rows, createRandom(seed)), { draws }), fit);
        const flip = (name: string) => `${9 - Number(name.slice(-1))} ${name}`;
        const renamed = rows.map((row) => ({
          ...row,
          setup: flip(row.setup),
          car: flip(row.car),
          session: flip(row.session),
          shared: row.shared?.map((part) => ({ ...part, key: `renamed ${part.key}` })) ?? [],
        }));
        expectNear(fitGroup(renamed, { draws }), fit, flip);
      }),
      settings,
    );
  });

  it('is not moved by an input that is the same for all runs of a session, nor by one the same for all of a car', () => {
    fc.assert(
      fc.property(worlds, ({ rows, seed }) => {
        const random = createRandom(seed + 1);
        const drawn = new Map<string, number>();
        const once = (key: string) => {
          const value = drawn.get(key) ?? 0.02 * drawNormal(random);
          drawn.set(key, value);
          return value;
        };
        const more = rows.map((row) => ({
          ...row,
          shared: [
            ...(row.shared ?? []),
            { key: 'sky', scope: 'session' as const, contribution: once(sessionOf(row)) },
            { key: `scale of ${row.car}`, scope: 'car' as const, contribution: once(row.car) },
          ],
        }));
        expect(without(fitGroup(more, { draws }))).toEqual(without(fitGroup(rows, { draws })));
        const bare = rows.map(({ shared: _, ...row }) => row);
        const even = more.map((row) => ({ ...row, shared: row.shared.slice(-2) }));
        expect(sessionSpread(columnsOf(even))).toBeNull();
        expect(without(fitGroup(even, { draws }))).toEqual(without(fitGroup(bare, { draws })));
      }),
      settings,
    );
  });

  it('has standard errors and degrees of freedom of the whole: ν (total/own)²', () => {
    fc.assert(
      fc.property(worlds, ({ rows }) => {
        const own = rows.map((row) => ({
          ...row,
          shared: row.shared?.filter(({ scope }) => scope === 'car' || scope === 'session') ?? [],
        }));
        const fit = fitGroup(own, { draws });
        // the same runs with w in their own u: what the fit takes for independent
        const taken = fitGroup(readyRows(own), { draws });
        const { found } = correctionAt(own, fit.components);
        expect(fit.components).toEqual(taken.components);
        const m = fit.setups.length;
        fit.contrasts.forEach((c, i) => {
          const b = taken.contrasts[i];
          const [x, y] = [fit.setups.indexOf(c.a), fit.setups.indexOf(c.b)];
          const at = (k: number, l: number) => found[k * m + l] as number;
          const total = (b?.se as number) ** 2 + at(x, x) + at(y, y) - 2 * at(x, y);
          expect(c.se ?? 0).toBeCloseTo(Math.sqrt(total), 10);
          expect((c.df as number) / ((b?.df as number) * (total / (b?.se as number) ** 2) ** 2)).toBeCloseTo(
            1,
            6,
          );
          expect(c.sharedSe).toBe(0);
        });
      }),
      settings,
    );
  });
});

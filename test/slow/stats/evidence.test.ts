import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalUpper, tUpperQuantile } from '@/lib/numerics/distributions';
import { createRandom, shuffle } from '@/lib/numerics/random';
import { judgeFamilies, judgePair } from '@/lib/stats/evidence';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { Contrast } from '@/lib/stats/groupFit';
import { drawCorrelated } from '@/lib/stats/maxT';
import { readResult } from '@/test/lib/stats/reference';
import { simulateRuns } from '@/test/lib/stats/runs';

const shape = {
  cars: 9,
  sessions: 4,
  loops: 2,
  setups: 4,
  runs: 4,
  sdCar: 0.02,
  sdCarLoop: 0.008,
  sdSession: 0.015,
  sdRun: 0.01,
  u: 0.003,
};
/** Three models of three cars and four setups each, with a method-scoped and a model-scoped input. */
function worldOf(seed: number): FitRow[] {
  return simulateRuns(shape, seed).map((row) => {
    const model = `m${Number(row.car.slice(4)) % 3}`;
    const tilt = 0.004 * Number(row.setup.slice(6));
    return {
      ...row,
      model,
      setup: `${model} ${row.setup}`,
      shared: [
        { key: 'kappa', scope: 'method' as const, contribution: 0.01 + tilt },
        { key: `drag of ${model}`, scope: 'model' as const, contribution: 0.02 - tilt },
        { key: `aux of ${row.car}`, scope: 'car' as const, contribution: 0.05 },
      ],
    };
  });
}
const world = fc.integer({ min: 1, max: 1e6 }).map(worldOf);
const settings = { numRuns: 12, seed: 91 };
const draws = 400;
const out = (ends: readonly [number, number] | null) => ends !== null && (ends[0] > 0 || ends[1] < 0);

describe('one word for a difference', { timeout: 60_000 }, () => {
  it('follows from the widest family whose interval leaves 0 out; the families lie inside each other', () => {
    const words = new Set<string | null>();
    fc.assert(
      fc.property(world, (rows) => {
        for (const c of fitGroup(rows, { draws }).contrasts) {
          words.add(c.word);
          if (c.interval95 === null || c.simultaneous === null) continue;
          const middle = c.modelInterval ?? c.interval95;
          expect(c.simultaneous[0]).toBeLessThanOrEqual(middle[0]);
          expect(middle[0]).toBeLessThanOrEqual(c.interval95[0]);
          expect(c.interval95[1]).toBeLessThanOrEqual(middle[1]);
          expect(middle[1]).toBeLessThanOrEqual(c.simultaneous[1]);
          const wanted = out(c.simultaneous)
            ? 'settled'
            : out(c.modelInterval)
              ? 'probable'
              : out(c.interval95)
                ? 'leaning'
                : 'undecided';
          expect(c.word).toBe(wanted);
          if (c.kind === 'across') expect(c.modelInterval).toBeNull();
          // Settled implies probable implies leaning: an interval that leaves 0 out does so in every narrower one.
          if (out(c.simultaneous) && c.modelInterval !== null) expect(out(c.modelInterval)).toBe(true);
          if (out(c.modelInterval)) expect(out(c.interval95)).toBe(true);
        }
      }),
      settings,
    );
    for (const word of ['settled', 'leaning', 'undecided']) expect(words).toContain(word);
  });

  it('does not hang on the order of the rows nor on the names of the cars', () => {
    fc.assert(
      fc.property(world, fc.integer({ min: 1, max: 1e6 }), (rows, seed) => {
        const wanted = fitGroup(rows, { draws });
        const random = createRandom(seed);
        const mixed = fitGroup(shuffle(rows, random), { draws });
        expect(mixed.contrasts).toEqual(wanted.contrasts);
        const names = [...new Set(rows.map((row) => row.car))];
        const others = new Map(
          names.map((name, i) => [name, shuffle(names, createRandom(seed))[i] as string]),
        );
        const renamed = fitGroup(
          rows.map((row) => ({ ...row, car: others.get(row.car) as string })),
          { draws },
        );
        renamed.contrasts.forEach((c, i) => {
          const w = wanted.contrasts[i] as Contrast;
          expect([c.kind, c.word, c.reason]).toEqual([w.kind, w.word, w.reason]);
          expect(c.difference ?? 0).toBeCloseTo(w.difference ?? 0, 9);
          expect((c.se ?? 1) / (w.se ?? 1)).toBeCloseTo(1, 6);
          expect((c.df ?? 1) / (w.df ?? 1)).toBeCloseTo(1, 4);
        });
      }),
      settings,
    );
  });

  it('a common factor on all runs of a car moves no difference within that car', () => {
    fc.assert(
      fc.property(world, fc.double({ min: -0.2, max: 0.2, noNaN: true }), (rows, shift) => {
        // One car a model: every difference within a model is within the car.
        const own = rows.filter((row) => ['car 0', 'car 1', 'car 2'].includes(row.car));
        const before = fitGroup(own, { draws, drop: ['car', 'carLoop'] });
        const moved = own.map((row) => (row.car === 'car 1' ? { ...row, z: row.z + shift } : row));
        const after = fitGroup(moved, { draws, drop: ['car', 'carLoop'] });
        after.contrasts.forEach((c, i) => {
          if (c.kind === 'across' || c.difference === null) return;
          expect(c.difference).toBeCloseTo(before.contrasts[i]?.difference as number, 8);
        });
      }),
      settings,
    );
  });

  it('rank sets follow from the settled differences, and chances from the comparable ones', () => {
    const fit = fitGroup(worldOf(3), { draws });
    const ranked = new Set(fit.ranks.map((r) => r.setup));
    expect(ranked.size).toBeGreaterThan(4);
    for (const r of fit.ranks) {
      const about = fit.contrasts.filter(
        (c) => (c.a === r.setup || c.b === r.setup) && ranked.has(c.a) && ranked.has(c.b),
      );
      const sign = (c: Contrast) => (c.a === r.setup ? 1 : -1) * (c.difference as number);
      const settled = about.filter((c) => c.word === 'settled');
      expect(r.lower).toBe(1 + settled.filter((c) => sign(c) > 0).length);
      expect(r.upper).toBe(ranked.size - settled.filter((c) => sign(c) < 0).length);
      expect(r.comparable).toBe(1 + about.filter((c) => c.interval95 !== null).length);
    }
  });
});

describe('what runs share', { timeout: 60_000 }, () => {
  it('adds to a difference what does not cancel, with more degrees of freedom for being known', () => {
    const rows = worldOf(5);
    const [bare, whole] = [
      fitGroup(
        rows.map(({ shared: _, ...row }) => row),
        { draws },
      ),
      fitGroup(rows, { draws }),
    ];
    whole.contrasts.forEach((c, i) => {
      const b = bare.contrasts[i] as Contrast;
      if (c.se === null || b.se === null || c.sharedSe === null || c.df === null || b.df === null) return;
      expect(c.se ** 2).toBeCloseTo(b.se ** 2 + c.sharedSe ** 2, 14);
      // ν (1 + L'ΣL/L'ΦL)².
      expect(c.df / (b.df * (1 + (c.sharedSe / b.se) ** 2) ** 2)).toBeCloseTo(1, 8);
      const [x, y] = [c.a, c.b].map((name) => 0.004 * Number(name.slice(-1)));
      const gap = (x as number) - (y as number);
      // Within a model the two inputs differ by the tilt, once each way; across, each model's drag stands by itself.
      const wanted =
        c.kind === 'across'
          ? Math.hypot(gap, 0.02 - (x as number), 0.02 - (y as number))
          : Math.hypot(gap, gap);
      expect(c.sharedSe).toBeCloseTo(wanted, 10);
    });
    expect(whole.components).toEqual(bare.components);
  });

  it('of scope car or session is not added: it is in their variances already', () => {
    const rows = worldOf(5);
    const own = rows.map((row) => ({
      ...row,
      shared: row.shared?.filter((part) => part.scope === 'car') ?? [],
    }));
    const fit = fitGroup(own, { draws });
    expect(fit.sharedEffects).toEqual([]);
    for (const c of fit.contrasts) if (c.sharedSe !== null) expect(c.sharedSe).toBe(0);
  });

  it('moves the estimates as an error of the input would: λ is the shift of a fit of shifted runs', () => {
    const rows = worldOf(7);
    const fit = fitGroup(rows, { draws });
    const lambda = fit.sharedEffects.find((effect) => effect.key === 'drag of m1');
    // The same components, so that the fit is linear: refit with known run variances is not needed, β is.
    const shifted = rows.map((row) => ({
      ...row,
      z: row.z + 1e-7 * (row.shared?.find((part) => part.key === 'drag of m1')?.contribution ?? 0),
    }));
    const moved = fitGroup(shifted, { draws });
    moved.estimates.forEach((estimate, k) => {
      const slope = (estimate.beta - (fit.estimates[k]?.beta as number)) / 1e-7;
      expect(slope).toBeCloseTo(lambda?.effects[k] as number, 4);
    });
  });
});

describe('simultaneous values', { timeout: 60_000 }, () => {
  interface Row {
    p: number;
    k: number;
    df: number;
    exact: number;
  }
  it('are Tukey’s q/√2 by direct integration in the balanced layout', () => {
    const rows = readResult<Row[]>('studentized_range_exact');
    let checked = 0;
    for (const row of rows) {
      const perCell = row.df / row.k + 1;
      if (row.p !== 0.95 || row.k > 10 || row.df < 3 || !Number.isInteger(perCell) || perCell < 2) continue;
      const runs = Array.from({ length: row.k * perCell }, (_, i) => ({
        setup: `s${i % row.k}`,
        car: 'k',
        session: '1',
        z: 5 + 0.01 * Math.sin(37 * i),
        u: 0,
      }));
      const fit = fitGroup(runs, { drop: ['car', 'session'], draws: 20_000 });
      const { value = 0, monteCarloError = 0, df = 0 } = fit.criticalValue ?? {};
      expect(df).toBeCloseTo(row.df, 6);
      expect(Math.abs(value - row.exact / Math.SQRT2)).toBeLessThan(4 * monteCarloError + 2e-3);
      expect(value).toBeGreaterThanOrEqual(tUpperQuantile(0.025, row.df));
      checked++;
    }
    expect(checked).toBeGreaterThan(1);
  });
});

describe('a pair in its family', { timeout: 60_000 }, () => {
  it('is held against the multivariate t at its own degrees of freedom', () => {
    // Two equally precise pairs that share nothing: P(both |t| ≤ c) with a common scale, integrated by Simpson’s rule
    // over its density (Hochberg & Tamhane 1987, appendix 3), a way of its own.
    const covariance = new Float64Array(16);
    for (let i = 0; i < 4; i++) covariance[i * 5] = 0.5;
    const shared = { difference: 0, se: 1, model: 'm' };
    const pairs = [
      { a: 0, b: 1, df: 5, ...shared },
      { a: 2, b: 3, df: 40, ...shared },
    ];
    const families = judgeFamilies(pairs, drawCorrelated(covariance, 4, 20_000, 2), 0.95);
    for (const pair of pairs) {
      const [, c] = judgePair(pair, families).ofClass;
      expect(bothHeld(c, pair.df)).toBeCloseTo(0.95, 3);
    }
  });
});

function bothHeld(c: number, df: number): number {
  const [steps, reach] = [4000, 6];
  let [sum, mass] = [0, 0];
  for (let i = 0; i <= steps; i++) {
    const s = (reach * i) / steps;
    const weight = i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2;
    const density = s ** (df - 1) * Math.exp((-df * s * s) / 2);
    sum += weight * density * (1 - 2 * normalUpper(c * s)) ** 2;
    mass += weight * density;
  }
  return sum / mass;
}

describe('numbers at the edge', () => {
  it('on a constant of 1e12 lose nothing that their doubles hold', () => {
    const shifted = simulateRuns({ ...shape, u: 0, sdCar: 3, sdCarLoop: 1, sdSession: 2, sdRun: 1 }, 4).map(
      (row) => ({
        ...row,
        z: 1e12 + row.z,
      }),
    );
    // What the doubles hold, taken off exactly.
    const exact = shifted.map((row) => ({ ...row, z: row.z - 1e12 }));
    const [far, near] = [fitGroup(shifted, { draws }), fitGroup(exact, { draws })];
    for (const name of ['car', 'carLoop', 'session', 'residual'] as const) {
      expect(Math.abs(far.components[name] / near.components[name] - 1)).toBeLessThan(1e-5);
    }
    far.contrasts.forEach((c, i) => {
      expect(c.difference).toBeCloseTo(near.contrasts[i]?.difference as number, 8);
    });
  });

  it('take one uncertainty of zero among many', () => {
    const rows = simulateRuns({ ...shape, sdRun: 0.001, u: 0.01 }, 6);
    const zero = fitGroup(
      rows.map((row, i) => (i === 5 ? { ...row, u: 0 } : row)),
      { draws },
    );
    expect(zero.contrasts.every((c) => c.se !== null && c.se > 0)).toBe(true);
    expect(zero.notes).not.toContain(
      'runs repeat exactly and state no uncertainty, so no interval can be given',
    );
    const small = fitGroup(
      rows.map((row, i) => (i === 5 ? { ...row, u: 1e-5 } : row)),
      { draws },
    );
    zero.contrasts.forEach((c, i) => {
      expect((c.se as number) / (small.contrasts[i]?.se as number)).toBeCloseTo(1, 2);
    });
  });

  it('names identical rows that no run tells apart', () => {
    const rows = simulateRuns(shape, 2);
    const copied = fitGroup([...rows, rows[0] as FitRow], { draws });
    expect(copied.notes.join()).toContain(
      '2 identical rows (setup setup 0, car car 0, loop loop 0, session day 0)',
    );
    const named = [...rows, rows[0] as FitRow].map((row, i) => ({ ...row, runId: `r${i}` }));
    expect(fitGroup(named, { draws }).notes.join()).not.toContain('identical');
  });
});

import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import { youngClassSpread } from '@/lib/physics/priors';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { Contrast, GroupFit } from '@/lib/stats/groupFit';
import { readResult, readSynthetic, readTable } from './reference';
import { simulateRuns } from './runs';

const shape = {
  cars: 8,
  sessions: 3,
  setups: 4,
  runs: 4,
  sdCar: 0.04,
  sdSession: 0.02,
  sdRun: 0.015,
  u: 0.004,
};
const rows = simulateRuns(shape, 1);
const between = (fit: GroupFit, a: string, b: string) =>
  fit.contrasts.find((c) => c.a === a && c.b === b) as Contrast;

describe('fitting a group', { timeout: 30_000 }, () => {
  it('agrees with R on every difference and the covariance of 40 setups', () => {
    interface Lmer {
      vcov: number[][];
      pairs: { i: number; j: number; est: number; se: number; df: number }[];
    }
    const wanted = readResult<Lmer>('synth2k_lmer');
    // Setups as models of their own, so that unconnected pairs are compared too, as lme4 does.
    const fit = fitGroup(readSynthetic('synth2k', false), { modelOf: (setup) => setup, draws: 2000 });
    expect(fit.dfMethod).toBe('satterthwaite');
    expect(fit.contrasts).toHaveLength(780);
    const names = fit.setups;
    for (const pair of wanted.pairs) {
      const found = between(fit, names[pair.i - 1] as string, names[pair.j - 1] as string);
      expect(Math.abs((found.se as number) / pair.se - 1)).toBeLessThan(1e-6);
      expect(Math.abs((found.df as number) / pair.df - 1)).toBeLessThan(1e-4);
    }
    fit.covariance.forEach((row, i) => {
      expect(Math.abs((row[i] as number) / (wanted.vcov[i]?.[i] as number) - 1)).toBeLessThan(1e-6);
    });
  });

  it("has Tukey's simultaneous intervals in the balanced one-way layout", () => {
    // R: TukeyHSD(aov(weight ~ group, PlantGrowth)).
    interface Tukey {
      diff: number;
      lwr: number;
      upr: number;
      pair: string;
    }
    const plants = readTable('PlantGrowth').map((row) => ({
      setup: row.group as string,
      car: 'one',
      session: 'one',
      z: Number(row.weight),
      u: 0,
    }));
    const fit = fitGroup(plants, { drop: ['car', 'session'] });
    for (const wanted of readResult<{ tukeyHSD: { PlantGrowth: Tukey[] } }>('tests').tukeyHSD.PlantGrowth) {
      const [b, a] = wanted.pair.split('-') as [string, string];
      const found = between(fit, a, b);
      expect(found.difference).toBeCloseTo(-wanted.diff, 10);
      expect(found.df).toBeCloseTo(27, 8);
      const slack = 4 * (fit.criticalValue?.monteCarloError as number) * (found.se as number) + 1e-6;
      expect(Math.abs((found.simultaneous?.[0] as number) + wanted.upr)).toBeLessThan(slack);
      expect(Math.abs((found.simultaneous?.[1] as number) + wanted.lwr)).toBeLessThan(slack);
    }
    expect(fit.estimates.every((e) => !e.labels.includes('car variation unknown'))).toBe(true);
  });

  it('counts every row: used plus excluded, each with its reason', () => {
    const bad: FitRow[] = [
      { setup: 'setup 1', car: 'car 1', session: 'day 1', z: Number.NaN, u: 0 },
      { setup: 'setup 1', car: 'car 1', session: 'day 1', z: 5, u: -1 },
      { setup: '', car: 'car 1', session: 'day 1', z: 5, u: 0 },
      { setup: 'setup 1', car: '', session: 'day 1', z: 5, u: 0 },
      { setup: 'setup 1', car: 'car 1', session: '', z: 5, u: 0 },
      { runId: 'r', setup: 'setup 1', car: 'car 1', session: 'day 1', z: 5, u: 0 },
      { runId: 'r', setup: 'setup 1', car: 'car 1', session: 'day 1', z: 5, u: 0 },
    ];
    const fit = fitGroup([...rows, ...bad], { draws: 500 });
    expect(fit.nIn).toBe(rows.length + 7);
    expect(fit.nUsed).toBe(rows.length + 1);
    expect(fit.nIn).toBe(fit.nUsed + fit.excluded.length);
    expect(new Set(fit.excluded.map((e) => e.reason)).size).toBe(6);
    expect(fit.estimates.reduce((sum, e) => sum + e.n, 0)).toBe(fit.nUsed);
  });

  it('is plain data: JSON brings all of it back', () => {
    const fit = fitGroup(rows, { draws: 500 });
    expect(JSON.parse(JSON.stringify(fit))).toEqual(fit);
    const empty = fitGroup([]);
    expect(JSON.parse(JSON.stringify(empty))).toEqual(empty);
    expect(empty).toMatchObject({ nIn: 0, nUsed: 0, converged: true, estimates: [] });
  });

  it('repeats for a seed and carries it', () => {
    expect(fitGroup(rows, { seed: 4, draws: 500 })).toEqual(fitGroup(rows, { seed: 4, draws: 500 }));
    expect(fitGroup(rows, { seed: 4, draws: 500 }).criticalValue?.value).not.toBe(
      fitGroup(rows, { seed: 5, draws: 500 }).criticalValue?.value,
    );
  });

  it('states repeatability with its limits', () => {
    const fit = fitGroup(rows, { draws: 200 });
    const { car, session, residual } = fit.components;
    const u2 = rows.reduce((sum, row) => sum + row.u ** 2, 0) / rows.length;
    // ISO 5725-6:1994, 4.1: limits 2.8 s, of single results, so the known part of a run's variance is in them.
    expect(fit.repeatability?.sr).toBeCloseTo(Math.sqrt(residual + u2), 14);
    expect(fit.repeatability?.r).toBeCloseTo(2.8 * Math.sqrt(residual + u2), 14);
    expect(fit.repeatability?.R).toBeCloseTo(2.8 * Math.sqrt(residual + session + car + u2), 14);
  });
});

describe('small samples', () => {
  it('gives a single run no interval, only what one run of one car would vary by, and no rank', () => {
    const single = { setup: 'once', car: 'car 1', session: 'day 1', z: 5.1, u: 0.01 };
    const fit = fitGroup([...rows, single], { draws: 500 });
    const estimate = fit.estimates.find((e) => e.setup === 'once');
    expect(estimate).toMatchObject({ n: 1, singleRun: true, interval95: null, ranked: false });
    expect(estimate?.labels).toContain('single run');
    const { car, session, residual } = fit.components;
    const expected = estimate?.expectedVariation;
    const half = Math.sqrt(car + session + residual + 0.01 ** 2) * tUpperQuantile(0.025, expected?.df ?? 0);
    expect(expected?.halfWidth).toBeCloseTo(half, 12);
    // 2 s⁴ over the variance of the sum of the components (Satterthwaite 1946).
    const spread = fit.componentCovariance.flat().reduce((sum, x) => sum + x, 0);
    expect(expected?.df).toBeCloseTo((2 * (car + session + residual + 0.01 ** 2) ** 2) / spread, 8);
    expect(estimate?.missing).toEqual([
      { what: 'runs', have: 1, need: 2 },
      { what: 'sessions', have: 1, need: 2 },
    ]);
    expect(fit.ranks.some((r) => r.setup === 'once')).toBe(false);
  });

  it('gives the runs of a single car no interval of the mean of its setup, and compares within it', () => {
    const own: FitRow[] = [5.2, 5.21, 5.19, 5.22].map((z, i) => ({
      setup: 'mine',
      car: 'car 1',
      session: `extra ${i % 2}`,
      z,
      u: 0.004,
    }));
    const fit = fitGroup([...rows, ...own], { draws: 500 });
    const estimate = fit.estimates.find((e) => e.setup === 'mine');
    expect(estimate).toMatchObject({ n: 4, cars: 1, interval95: null });
    expect(estimate?.expectedVariation?.halfWidth).toBeGreaterThan(2 * Math.sqrt(fit.components.car));
    expect(between(fit, 'mine', 'setup 1').interval95).not.toBeNull();
  });

  it('says that a component is 0 instead of hiding it', () => {
    // Every session of a car is moved to the car's own mean: the sessions differ by less than chance allows.
    const mean = (own: readonly FitRow[]) => own.reduce((sum, row) => sum + row.z, 0) / own.length;
    const flat = rows.map((row) => {
      const ofCar = rows.filter((r) => r.car === row.car);
      const ofSession = ofCar.filter((r) => r.session === row.session);
      return { ...row, z: row.z - mean(ofSession) + mean(ofCar) };
    });
    const fit = fitGroup(flat, { draws: 200 });
    expect(fit.boundary).toEqual(['session']);
    expect(fit.components.session).toBe(0);
    expect(fit.notes).toContain('session variation estimated as 0');
    expect(fit.dfMethod).toBe('kenward-roger');
  });

  it('adjusts by Kenward and Roger below 20 cars, and with more where a component is 0', () => {
    const of = (cars: number) => fitGroup(simulateRuns({ ...shape, cars }, 5), { draws: 200 });
    const [few, enough] = [of(19), of(20)];
    expect([few.boundary, enough.boundary]).toEqual([[], []]);
    expect([few.dfMethod, enough.dfMethod]).toEqual(['kenward-roger', 'satterthwaite']);
    // Each car's sessions all have one mean, so that none differs from another.
    const many = simulateRuns({ ...shape, cars: 24, setups: 1 }, 5);
    const mean = (own: readonly FitRow[]) => own.reduce((sum, row) => sum + row.z, 0) / own.length;
    const flat = many.map((row) => {
      const ofSession = many.filter((r) => r.car === row.car && r.session === row.session);
      const ofCar = many.filter((r) => r.car === row.car);
      return { ...row, z: row.z - mean(ofSession) + mean(ofCar) };
    });
    expect(fitGroup(flat, { draws: 200 })).toMatchObject({
      boundary: ['session'],
      dfMethod: 'kenward-roger',
    });
  });

  it('borrows what a young class cannot see, says so, and assumes nothing unasked', () => {
    const few: FitRow[] = ['a', 'b', 'c'].map((setup, i) => ({
      setup,
      car: 'mine',
      session: 'today',
      z: 5 + 0.01 * i,
      u: 0.003,
    }));
    const fit = fitGroup(few, { priors: youngClassSpread(), draws: 500 });
    expect(fit.origins).toMatchObject({ car: 'assumed', session: 'assumed', residual: 'assumed' });
    expect(fit.components.residual).toBeCloseTo(0.008 ** 2, 12);
    expect(fit.notes).toContain('repeatability assumed: 0.80 %');
    expect(fit.converged).toBe(true);
    const pair = between(fit, 'a', 'b');
    // One run against one in the same session: 2 (v + u²). The variance is believed on 4 degrees of freedom, of which
    // the known u² needs none: 4 ((v + u²)/v)².
    const [v, u2] = [0.008 ** 2, 0.003 ** 2];
    expect(pair.se).toBeCloseTo(Math.sqrt(2 * (v + u2)), 10);
    expect(pair.df).toBeCloseTo(4 * ((v + u2) / v) ** 2, 6);
    expect(pair.interval95).not.toBeNull();
    expect(fit.estimates[0]?.labels).toEqual(['single run', 'one car', 'repeatability assumed']);
    expect(fit.estimates[0]?.expectedVariation?.halfWidth).toBeGreaterThan(0.04);
    // The same rows on their own: three runs cannot even tell car from mean.
    const alone = fitGroup(few, { draws: 500 });
    expect(alone.origins).toEqual({ car: 'none', carLoop: 'none', session: 'none', residual: 'none' });
    expect(alone.estimates[0]?.labels).toContain('car variation unknown');
    expect(between(alone, 'a', 'b')).toMatchObject({ interval95: null, word: null });
  });

  it('claims nothing from one run a setup without pooled components', () => {
    const fit = fitGroup([
      { setup: 'a', car: 'k', session: '1', z: 5, u: 0 },
      { setup: 'b', car: 'k', session: '1', z: 5.1, u: 0 },
    ]);
    // Nothing was attempted, so nothing failed to converge.
    expect(fit.converged).toBe(true);
    expect(fit.notes).not.toContain('the fit did not converge');
    expect(fit.estimates.map((e) => e.se)).toEqual([null, null]);
    expect(fit.estimates[0]?.beta).toBe(5);
    expect(between(fit, 'a', 'b')).toMatchObject({
      interval95: null,
      word: null,
      reason: 'repeatability unknown',
    });
    expect(fit.ranks).toEqual([]);
  });

  it('gives no interval to runs that repeat exactly and state no uncertainty', () => {
    const fit = fitGroup(
      rows.map((row) => ({ ...row, z: 5, u: 0 })),
      { draws: 200 },
    );
    expect(fit.estimates.map((e) => [e.beta, e.se])).toEqual(fit.setups.map(() => [5, null]));
    expect(fit.ranks).toEqual([]);
    expect(fit.notes).toEqual(['runs repeat exactly and state no uncertainty, so no interval can be given']);
    // With an uncertainty of their own the same runs do have one.
    const stated = fitGroup(
      rows.map((row) => ({ ...row, z: 5, u: 0.01 })),
      { draws: 200 },
    );
    expect(stated.estimates.every((e) => Math.abs(e.beta - 5) < 1e-9 && (e.se as number) > 0)).toBe(true);
    expect(stated.ranks.every((r) => r.lower === 1 && r.upper === stated.ranks.length)).toBe(true);
  });
});

describe('what may be compared with what', () => {
  const modelOf = (setup: string) => setup.slice(0, 1);
  const car = (setup: string, name: string, seed: number): FitRow[] =>
    simulateRuns({ ...shape, cars: 1, setups: 1 }, seed).map((row) => ({ ...row, setup, car: name }));

  it('refuses two setups of one model that no car has driven both of', () => {
    const fit = fitGroup(
      [...car('A low', 'k', 1), ...car('A low', 'l', 2), ...car('A high', 'm', 3), ...car('A high', 'n', 4)],
      {
        modelOf,
        draws: 500,
      },
    );
    expect(between(fit, 'A high', 'A low')).toMatchObject({
      kind: 'none',
      difference: null,
      interval95: null,
      word: null,
      reason: 'no car has driven both',
    });
  });

  it('compares models only with enough cars on each side, with the car variance in the interval', () => {
    const side = (setup: string, cars: number, seed: number) =>
      Array.from({ length: cars }, (_, i) => car(setup, `${setup}${i}`, seed + i)).flat();
    const few = fitGroup([...side('A', 3, 10), ...side('B', 2, 20)], { modelOf, draws: 500 });
    expect(between(few, 'A', 'B')).toMatchObject({ kind: 'none', reason: 'too few cars on one side' });
    expect(few.estimates.find((e) => e.setup === 'B')?.missing).toEqual([{ what: 'cars', have: 2, need: 3 }]);
    expect(few.ranks.map((r) => r.setup)).toEqual(['A']);
    const enough = fitGroup([...side('A', 3, 10), ...side('B', 3, 20)], { modelOf, draws: 500 });
    const pair = between(enough, 'A', 'B');
    expect(pair.kind).toBe('across');
    expect(pair.se as number).toBeGreaterThan(Math.sqrt((2 * enough.components.car) / 3));
    expect(enough.ranks).toHaveLength(2);
  });

  it('gives two models that no car joins the whole of what each model’s runs share', () => {
    const side = (setup: string, part: number, seed: number) =>
      [0, 1, 2].flatMap((i) =>
        car(setup, `${setup}${i}`, seed + i).map((row) => ({
          ...row,
          shared: [{ key: `drag of ${setup}`, scope: 'model' as const, contribution: part }],
        })),
      );
    const bare = fitGroup([...side('A', 0, 10), ...side('B', 0, 20)], { modelOf, draws: 500 });
    const fit = fitGroup([...side('A', 0.03, 10), ...side('B', 0.04, 20)], { modelOf, draws: 500 });
    const [without, pair] = [between(bare, 'A', 'B'), between(fit, 'A', 'B')];
    expect(pair.kind).toBe('across');
    // two inputs of their own, 3 % and 4 %: in quadrature (JCGM 100:2008, 5.1.2)
    expect(pair.sharedSe).toBeCloseTo(0.05, 12);
    expect(pair.se).toBeCloseTo(Math.hypot(without.se as number, 0.05), 12);
  });

  it('names a chain and its length, and takes a car on two loops for one car', () => {
    const day = (setup: string, name: string, session: string, loop?: string): FitRow[] =>
      [0, 1].map((i) => ({
        setup,
        car: name,
        session,
        z: 5 + 0.01 * i,
        u: 0,
        ...(loop === undefined ? {} : { loop }),
      }));
    const chain = fitGroup([
      ...day('a', 'k', '1'),
      ...day('b', 'k', '1'),
      ...day('b', 'l', '1'),
      ...day('c', 'l', '2'),
      ...day('a', 'm', '1'),
    ]);
    expect(between(chain, 'a', 'b')).toMatchObject({ kind: 'session', chainLength: 1 });
    expect(between(chain, 'b', 'c')).toMatchObject({ kind: 'car', chainLength: 1 });
    expect(between(chain, 'a', 'c')).toMatchObject({ kind: 'indirect', chainLength: 2 });
    const loops = fitGroup([...day('a', 'k', '1', 'coast'), ...day('b', 'k', '1', 'forest')]);
    expect(between(loops, 'a', 'b').kind).toBe('car');
    expect(loops.estimates.map((e) => [e.cars, e.loops])).toEqual([
      [1, 1],
      [1, 1],
    ]);
  });
});

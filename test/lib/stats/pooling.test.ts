import { describe, expect, it } from 'vitest';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/groupFit';
import { needsPooledComponents, poolComponents } from '@/lib/stats/pooling';
import { type SimulatedShape, simulateRuns } from './runs';

const CARS = 4;
const DAYS = 3;
const RUNS = 4;
const shape: SimulatedShape = {
  cars: CARS,
  sessions: DAYS,
  setups: 1,
  runs: RUNS,
  sdCar: 0.04,
  sdSession: 0.02,
  sdRun: 0.01,
  u: 0,
};

/** A class of its own: one setup, cars and days that no other class has, at a level of its own. */
const classOf = (name: string, level: number, seed: number): FitRow[] =>
  simulateRuns(shape, seed).map((row) => ({
    ...row,
    setup: `${row.setup} at ${name}`,
    car: `${row.car} of ${name}`,
    z: row.z + level,
  }));
const slow = classOf('90', 0, 1);
const fast = classOf('130', 0.4, 2);

const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;
const squares = (values: readonly number[]) => {
  const centre = mean(values);
  return values.reduce((sum, x) => sum + (x - centre) ** 2, 0);
};

/** Sums of squares of one balanced class: within sessions, between sessions of a car, between cars. */
function sumsOfSquares(rows: readonly FitRow[]) {
  const by = (key: (row: FitRow) => string) => {
    const groups = new Map<string, FitRow[]>();
    for (const row of rows) groups.set(key(row), [...(groups.get(key(row)) ?? []), row]);
    return [...groups.values()];
  };
  const zOf = (of: readonly FitRow[]) => of.map((row) => row.z);
  const sessionMeans = by((row) => row.car).map((ofCar) =>
    [...new Set(ofCar.map((row) => row.session))].map((session) =>
      mean(zOf(ofCar.filter((row) => row.session === session))),
    ),
  );
  return {
    within: by((row) => `${row.car} ${row.session}`).reduce((sum, of) => sum + squares(zOf(of)), 0),
    session: RUNS * sessionMeans.reduce((sum, means) => sum + squares(means), 0),
    car: RUNS * DAYS * squares(sessionMeans.map(mean)),
  };
}

describe('pooled components', () => {
  it('are those of the analysis of variance with the sums of squares of both classes added', () => {
    // Balanced nested data: REML is the analysis of variance where that is not negative (Searle, Casella & McCulloch
    // 1992, Variance Components); the pooled repeatability is Σ(n−1)s²/Σ(n−1) (ISO 5725-2:1994, 7.4). Both from memory.
    const [a, b] = [sumsOfSquares(slow), sumsOfSquares(fast)];
    const within = (a.within + b.within) / (2 * CARS * DAYS * (RUNS - 1));
    const session = (a.session + b.session) / (2 * CARS * (DAYS - 1));
    const car = (a.car + b.car) / (2 * (CARS - 1));
    const pooled = poolComponents([...slow, ...fast], 'both');
    if (pooled === null) throw new Error('nothing to pool');
    expect(pooled.residual / within).toBeCloseTo(1, 6);
    expect(pooled.session / ((session - within) / RUNS)).toBeCloseTo(1, 5);
    expect(pooled.car / ((car - session) / (RUNS * DAYS))).toBeCloseTo(1, 5);
    expect(pooled.residualDf).toBe(2 * CARS * DAYS * RUNS - 2);
    expect(pooled.cells).toBe(2 * CARS * DAYS);
  });

  it('do not see that the classes differ in level', () => {
    const here = poolComponents([...slow, ...fast], 'both');
    const there = poolComponents([...slow, ...fast.map((row) => ({ ...row, z: row.z - 3 }))], 'both');
    for (const name of ['car', 'session', 'residual'] as const) {
      expect((there?.[name] ?? 0) / (here?.[name] ?? 0)).toBeCloseTo(1, 6);
    }
  });

  it('count a car of two classes as one car', () => {
    const sameCars = [
      ...slow,
      ...slow.map((row) => ({ ...row, setup: 'other', session: `${row.session}b` })),
    ];
    // four cars stay four, which is too few; under other names they would be eight
    expect(poolComponents(sameCars, 'both')).toBeNull();
    const renamed = sameCars.map((row) => (row.setup === 'other' ? { ...row, car: `${row.car}b` } : row));
    expect(poolComponents(renamed, 'both')).not.toBeNull();
  });

  it('are refused where they are no better known than what they would replace', () => {
    expect(poolComponents([], 'nothing')).toBeNull();
    expect(poolComponents(slow.slice(0, 9), 'too few')).toBeNull();
    const exact = [...slow, ...fast].map((row) => ({ ...row, z: row.setup.length }));
    expect(poolComponents(exact, 'runs that repeat exactly')).toBeNull();
  });

  it('are asked for by exactly those groups that would take them', () => {
    const pooled = poolComponents([...slow, ...fast], 'both') ?? undefined;
    for (const rows of [slow, [...slow, ...fast], slow.slice(0, 2), slow.slice(0, 12), []]) {
      const fit = fitGroup(rows, { pooledComponents: pooled, draws: 100 });
      expect(needsPooledComponents(rows)).toBe(fit.pooled);
    }
    expect(needsPooledComponents(slow)).toBe(true);
    expect(needsPooledComponents([...slow, ...fast])).toBe(false);
  });
});

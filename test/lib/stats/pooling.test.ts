import { describe, expect, it } from 'vitest';
import { fitGroup } from '@/lib/stats/fitGroup';
import { pooledNote } from '@/lib/stats/fitNotes';
import type { FitRow } from '@/lib/stats/fitRow';
import { needsPooledCarLoop, poolCarLoop } from '@/lib/stats/pooling';
import { simulateRuns } from './runs';

/** A class of its own: cars that no other class has, each on two loops unless told. */
const classOf = (name: string, cars: number, loops: number, seed: number): FitRow[] =>
  simulateRuns(
    {
      cars,
      sessions: 4,
      loops,
      setups: 3,
      runs: 3,
      sdCar: 0.02,
      sdCarLoop: 0.015,
      sdSession: 0.01,
      sdRun: 0.008,
      u: 0.002,
    },
    seed,
  ).map((row) => ({ ...row, setup: `${row.setup} at ${name}`, car: `${row.car} of ${name}` }));

const few = classOf('90', 4, 2, 1);
const many = classOf('110', 8, 2, 2);

describe('the variance of a car on a loop', { timeout: 30_000 }, () => {
  it('is a group’s own where five cars drove two loops, and pooled below', () => {
    const own = fitGroup(many, { draws: 200 });
    expect([own.origins.carLoop, own.carsOnTwoLoops, own.pooledFrom]).toEqual(['own', 8, null]);
    const pooled = poolCarLoop([...few, ...many], 'both classes') ?? undefined;
    if (pooled === undefined) throw new Error('nothing to pool');
    const small = fitGroup(few, { draws: 200, pooledCarLoop: pooled });
    expect([small.origins.carLoop, small.carsOnTwoLoops]).toEqual(['pooled', 4]);
    expect(small.components.carLoop).toBeCloseTo(pooled.variance, 15);
    expect(small.notes).toContain(pooledNote('both classes'));
    // Without a pooled one it is 0, and the fit says that it has none.
    const alone = fitGroup(few, { draws: 200 });
    expect([alone.origins.carLoop, alone.components.carLoop]).toEqual(['none', 0]);
  });

  it('is asked for by exactly those groups that would take it', () => {
    const pooled = poolCarLoop([...few, ...many], 'both') ?? undefined;
    for (const rows of [few, many, few.slice(0, 2), []]) {
      const fit = fitGroup(rows, { ...(pooled === undefined ? {} : { pooledCarLoop: pooled }), draws: 100 });
      if (rows.length > 2) expect(needsPooledCarLoop(rows)).toBe(fit.origins.carLoop === 'pooled');
    }
    expect(needsPooledCarLoop([])).toBe(false);
  });

  it('does not see that classes differ in level, and counts a car of two classes as one car', () => {
    const here = poolCarLoop([...few, ...many], 'both');
    const there = poolCarLoop([...few, ...many.map((row) => ({ ...row, z: row.z - 3 }))], 'both');
    expect((there?.variance ?? 0) / (here?.variance ?? 0)).toBeCloseTo(1, 6);
    const again = few.map((row) => ({ ...row, setup: 'other', session: `${row.session}b` }));
    expect(poolCarLoop([...few, ...again], 'four cars')).toBeNull();
    const renamed = again.map((row) => ({ ...row, car: `${row.car}b` }));
    expect(poolCarLoop([...few, ...renamed], 'eight cars')).not.toBeNull();
  });

  it('is refused where no car drove two loops', () => {
    expect(poolCarLoop([], 'nothing')).toBeNull();
    expect(poolCarLoop(classOf('130', 8, 1, 3), 'one loop')).toBeNull();
  });
});

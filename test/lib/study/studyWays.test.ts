import { describe, expect, it } from 'vitest';
import { pairShown } from '@/lib/study/standing';
import { type StudyWayRun, studyWays } from '@/lib/study/studyWays';
import { dayOfRuns, planOf } from './plans';

const plan = planOf(2);
const unexplainedVariance = 0.004 ** 2;

/** A day of runs with steps: `z` is as measured plus wind and air. */
const day = (number: number, zs: readonly number[], changes: Partial<StudyWayRun> = {}): StudyWayRun[] =>
  dayOfRuns(number, 'abba', zs).map((run) => ({
    ...run,
    measuredZ: run.z - 0.03,
    windLog: 0.01,
    airLog: 0.02,
    isRetrospective: false,
    traffic: 'free',
    ...changes,
  }));
const waysOf = (runs: readonly StudyWayRun[]) =>
  studyWays({ plan, runs, unexplainedVariance }, 'b', 'running');
const wayOf = (runs: readonly StudyWayRun[], name: string) =>
  waysOf(runs).ways.find(({ way }) => way === name);

describe('a study’s difference worked out other ways', () => {
  const runs = [...day(1, [0, -0.02, -0.022, 0.002]), ...day(2, [0.001, -0.018, -0.02, -0.001])];
  const shown = pairShown({ plan, runs, unexplainedVariance }, 'b', 'running');

  it('is the same where every run has the same step, as a step that all share falls out of pairs', () => {
    for (const way of ['asMeasured', 'withoutWind', 'withoutAir']) {
      expect(wayOf(runs, way)?.difference).toBeCloseTo(shown?.difference ?? 0, 12);
      expect(wayOf(runs, way)?.interval?.[0]).toBeCloseTo(shown?.interval?.[0] ?? 0, 10);
    }
    expect(waysOf(runs).same).toEqual(['withoutRetrospective', 'withoutDenseTraffic']);
  });

  it('moves by what a step brought in', () => {
    // wind on the runs of b alone made them 0.4 % higher: without it they are lower by that
    const windy = runs.map((run) => (run.setupId === 'b' ? { ...run, windLog: 0.014 } : run));
    expect(wayOf(windy, 'withoutWind')?.difference).toBeCloseTo((shown?.difference ?? 0) - 0.004, 12);
  });

  it('leaves a step’s way out where it is not known of every run', () => {
    const [first, ...rest] = runs as [StudyWayRun, ...StudyWayRun[]];
    expect(wayOf([{ ...first, windLog: null, measuredZ: null }, ...rest], 'withoutWind')).toBeUndefined();
    expect(wayOf([{ ...first, windLog: null, measuredZ: null }, ...rest], 'asMeasured')).toBeUndefined();
  });

  it('leaves runs out, and has no answer where nothing to compare is left', () => {
    const dense = [...day(1, [0, -0.02, -0.02, 0]), ...day(2, [0, 0.05, 0.05, 0], { traffic: 'dense' })];
    expect(wayOf(dense, 'withoutDenseTraffic')?.difference).toBeCloseTo(-0.02, 12);
    const late = day(1, [0, -0.02, -0.02, 0], { isRetrospective: true });
    expect(wayOf(late, 'withoutRetrospective')).toEqual({
      way: 'withoutRetrospective',
      difference: null,
      interval: null,
    });
  });

  it('leaves each car out in turn', () => {
    expect(waysOf(runs).carsLeftOut).toBeNull();
    const two = [...day(1, [0, -0.02, -0.02, 0]), ...day(2, [0, 0.01, 0.01, 0], { carId: 'second' })];
    expect(waysOf(two).carsLeftOut).toMatchObject({ cars: 2, answered: 2, sameSign: 1 });
    expect(waysOf(two).carsLeftOut?.low).toBeCloseTo(-0.02, 12);
    expect(waysOf(two).carsLeftOut?.high).toBeCloseTo(0.01, 12);
  });
});

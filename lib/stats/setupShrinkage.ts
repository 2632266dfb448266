import { tUpperQuantile } from '@/lib/numerics/distributions';
import { carOnLoop, type ModelRun } from './modelRuns';
import type { ShrunkEffect, ShrunkEffects } from './shrinkage';
import { nestedKey } from './structure';

/** A car's or a day's own deviation as the model believes it, as a share of the consumption. */
export interface BelievedEffect {
  effect: number;
  /** 95 % interval of prediction. */
  low: number;
  high: number;
}

/** One car on one loop, or one of its sessions, against the setup's estimate. */
interface DeviationRow extends BelievedEffect {
  /** Runs of the setup. */
  runs: number;
  /** Geometric mean of those runs, and how far it lies from the setup's estimate, as a share of it. */
  meanWhPerKm: number;
  fromEstimate: number;
  /** The estimate moved by what is believed of the car (and of the day). */
  believedWhPerKm: number;
}

/** `effect` is the day's own here, on top of its car's. */
export interface SessionDeviation extends DeviationRow {
  sessionId: string;
}

export interface CarDeviation extends DeviationRow {
  /** Car on a loop, as the fit names it. */
  key: string;
  carId: string;
  loopId: string | null;
  /** Share that the model keeps of a deviation that all of the car's runs have in common. */
  kept: number;
  sessions: SessionDeviation[];
}

/**
 * What a setup's cars and days deviate by as normalised, beside how much of it the model believes: the best linear
 * unbiased predictions at the published components (lib/stats/shrinkage). With n runs of one setup by each car and no
 * session variance the prediction is n·vT/(n·vT + v) of the car's mean deviation (Robinson G. K. (1991), Statistical
 * Science 6, 15), vT holding what the car does everywhere and on this loop. Runs of other models share neither car nor session with these and change nothing.
 *
 * @param own approved runs of the setup in the class
 * @param predicted of the model's runs, all setups: a car is known by its other runs too
 * @param logMean the fit's value of the setup
 * @param residualDf degrees of freedom for the intervals
 */
export function setupShrinkage(
  own: readonly ModelRun[],
  predicted: ShrunkEffects,
  logMean: number,
  residualDf: number,
): CarDeviation[] {
  const t = tUpperQuantile(0.025, residualDf);
  const keyOf = (row: ShrunkEffect) => carOnLoop(row.car, row.loop === '' ? null : row.loop);
  const cars = new Map(predicted.carsOnLoops.map((row) => [keyOf(row), row]));
  const sessions = new Map(predicted.sessions.map((row) => [nestedKey(keyOf(row), row.session), row]));
  const row = (some: readonly ModelRun[], effect: ShrunkEffect, before: number): DeviationRow => {
    const mean = some.reduce((sum, run) => sum + Math.log(run.normalisedWhPerKm), 0) / some.length;
    return {
      runs: some.length,
      meanWhPerKm: Math.exp(mean),
      fromEstimate: Math.expm1(mean - logMean),
      effect: Math.expm1(effect.effect),
      low: Math.expm1(effect.effect - t * effect.se),
      high: Math.expm1(effect.effect + t * effect.se),
      believedWhPerKm: Math.exp(logMean + before + effect.effect),
    };
  };
  return [...groupBy(own, (run) => carOnLoop(run.carId, run.loopId))].map(([key, ofCar]) => {
    const car = cars.get(key);
    const [first] = ofCar;
    if (car === undefined || first === undefined) throw new TypeError('the predictions lost a car');
    return {
      key,
      carId: first.carId,
      loopId: first.loopId,
      kept: car.kept,
      ...row(ofCar, car, 0),
      sessions: [...groupBy(ofCar, (run) => run.sessionId)].map(([sessionId, ofDay]) => {
        const session = sessions.get(nestedKey(key, sessionId));
        if (session === undefined) throw new TypeError('the predictions lost a session');
        return { sessionId, ...row(ofDay, session, car.effect) };
      }),
    };
  });
}

function groupBy(runs: readonly ModelRun[], keyOf: (run: ModelRun) => string): Map<string, ModelRun[]> {
  const groups = new Map<string, ModelRun[]>();
  for (const run of runs) {
    const key = keyOf(run);
    const own = groups.get(key);
    if (own === undefined) groups.set(key, [run]);
    else own.push(run);
  }
  return groups;
}

import type { Variances } from './accumulate';
import { type GroupEffect, type ModeratedMean, moderatedMean } from './moderatedMean';
import type { SharedContribution } from './scopes';
import { readyRows } from './sessionSpread';

/** A run of one setup in one of two cruise classes. */
export interface SpeedRun {
  car: string;
  session: string;
  z: number;
  u: number;
  shared?: readonly SharedContribution[];
}

export interface SpeedEffect {
  /** ln ratio of the first class to the second, by car. */
  cars: GroupEffect[];
  /** Null with fewer cars than a pooled number needs. */
  combined: ModeratedMean | null;
}

/** A setup's runs in one class, with the class's fitted components and how well these are known. */
export interface ClassRuns {
  runs: readonly SpeedRun[];
  components: Variances;
  /** Of session and residual, 2 × 2; none: they are taken as known. */
  uncertainty?: VarianceUncertainty | undefined;
}

/** Sampling variances and covariance of the two fitted variances. */
export interface VarianceUncertainty {
  session: number;
  residual: number;
  both: number;
}

interface Side {
  mean: number;
  variance: number;
  /** How often the variances between sessions and between runs are in it. */
  ofSession: number;
  ofResidual: number;
  /** Mean contribution by input. */
  parts: Map<string, { scope: SharedContribution['scope']; sum: number }>;
}

/**
 * What cruise speed did to one setup, from cars that drove it in both classes: the mean of each car's sessions in one
 * class less that in the other, so that the car's own deviation cancels, then random effects over cars (method C7).
 * What a car's two sides share by key cancels as far as the sensitivities agree (JCGM 100:2008, 5.2): what is left of a
 * car's own inputs is in its variance, of the model's and the method's it correlates the cars. A day's inputs are in the
 * variance between days as far as they are the same for its runs; by what they differ the runs scatter (sessionSpread.ts;
 * of one setup's runs, as the others of the day are not at hand).
 * The variances of days and runs are the classes' estimates: all cars share their error, which takes degrees of freedom
 * from the mean.
 *
 * @param first, second the setup's runs in each class with the class's fitted components
 */
export function cruiseSpeedEffect(first: ClassRuns, second: ClassRuns, betweenSd?: number): SpeedEffect {
  const names = [...new Set(first.runs.map((run) => run.car))].sort();
  const cars = names.flatMap((name): GroupEffect[] => {
    const [a, b] = [sideOf(name, first), sideOf(name, second)];
    if (a === null || b === null) return [];
    let variance = a.variance + b.variance;
    const shared: Record<string, number> = {};
    for (const key of new Set([...a.parts.keys(), ...b.parts.keys()])) {
      const scope = (a.parts.get(key) ?? b.parts.get(key))?.scope;
      const left = (a.parts.get(key)?.sum ?? 0) - (b.parts.get(key)?.sum ?? 0);
      if (scope === 'car') variance += left * left;
      else shared[key] = left;
    }
    const varianceNoise = {
      ...noiseOf('first', a, first.uncertainty),
      ...noiseOf('second', b, second.uncertainty),
    };
    return [{ name, y: a.mean - b.mean, variance, df: Number.POSITIVE_INFINITY, shared, varianceNoise }];
  });
  return { cars, combined: moderatedMean(cars, betweenSd) };
}

/** What the uncertain components move a side's variance by, in two independent parts (Cholesky of the 2 × 2). */
function noiseOf(
  name: string,
  side: Side,
  uncertainty: VarianceUncertainty | undefined,
): Record<string, number> {
  if (uncertainty === undefined || !(uncertainty.residual > 0)) return {};
  const residual = Math.sqrt(uncertainty.residual);
  const along = uncertainty.both / residual;
  const rest = Math.sqrt(Math.max(0, uncertainty.session - along * along));
  return {
    [`${name} runs`]: side.ofResidual * residual + side.ofSession * along,
    [`${name} days`]: side.ofSession * rest,
  };
}

/** Mean over a car's sessions, each weighing the same; session-scoped parts are in the variance between sessions. */
function sideOf(car: string, side: ClassRuns): Side | null {
  const sessions = new Map<string, SpeedRun[]>();
  const own = side.runs.filter((run) => run.car === car);
  for (const run of own) sessions.set(run.session, [...(sessions.get(run.session) ?? []), run]);
  const uOf = new Map(ownUncertainty(own).map((u, i) => [own[i] as SpeedRun, u]));
  if (sessions.size === 0) return null;
  const m = sessions.size;
  const found: Side = { mean: 0, variance: 0, ofSession: 1 / m, ofResidual: 0, parts: new Map() };
  for (const runs of sessions.values()) {
    const weight = 1 / (m * runs.length);
    found.variance += side.components.session / (m * m);
    for (const run of runs) {
      found.mean += weight * run.z;
      found.ofResidual += weight * weight;
      found.variance += weight * weight * (side.components.residual + (uOf.get(run) as number) ** 2);
      for (const { key, scope, contribution } of run.shared ?? []) {
        if (scope === 'session') continue;
        const name = `${scope} ${key}`;
        const known = found.parts.get(name) ?? { scope, sum: 0 };
        found.parts.set(name, { scope, sum: known.sum + weight * contribution });
      }
    }
  }
  return found;
}

/** With what inputs of the day do unequally to the runs; those of the car go by key. */
function ownUncertainty(runs: readonly SpeedRun[]): number[] {
  const rows = runs.map(({ shared = [], ...run }) => ({
    ...run,
    setup: '',
    shared: shared.filter(({ scope }) => scope === 'session'),
  }));
  return readyRows(rows).map(({ u }) => u);
}

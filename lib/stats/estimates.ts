import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Estimate, EstimateLabel, MinimumCounts } from './groupFit';
import type { RunColumns } from './runColumns';
import { type TotalInference, totalContrast } from './totalInference';

/** How much of what stands behind one setup. */
export interface SetupCounts {
  n: number;
  sessions: number;
  cars: number;
  loops: number;
  meanKnownVariance: number;
  mean: number;
}

/** Least degrees of freedom from which an interval is claimed, and from which it may be ranked (method B3). */
export const LEAST_DF = 1;
/** 3, less the rounding of degrees of freedom that are exactly 3. */
export const ENOUGH_DF = 3 - 1e-6;

/** Counts a setup's runs, sessions, physical cars and loops. */
export function countSetups(runs: RunColumns): Map<string, SetupCounts> {
  const { setup, car, loop, session, z, u } = runs;
  const sums = setup.names.map(() => ({
    n: 0,
    cars: new Set<number>(),
    loops: new Set<number>(),
    sessions: new Set<string>(),
    z: 0,
    u2: 0,
  }));
  for (let i = 0; i < runs.count; i++) {
    const own = sums[setup.codes[i] as number] as (typeof sums)[number];
    own.n += 1;
    own.cars.add(car.codes[i] as number);
    own.loops.add(loop.codes[i] as number);
    own.sessions.add(`${car.codes[i]} ${loop.codes[i]} ${session.codes[i]}`);
    own.z += z[i] as number;
    own.u2 += (u[i] as number) * (u[i] as number);
  }
  return new Map(
    sums.map((own, code) => [
      setup.names[code] as string,
      {
        n: own.n,
        cars: own.cars.size,
        loops: own.loops.size,
        sessions: own.sessions.size,
        meanKnownVariance: own.u2 / own.n,
        mean: own.z / own.n,
      },
    ]),
  );
}

export interface EstimateContext {
  inference: TotalInference | null;
  level: number;
  minimum: MinimumCounts;
  /** Whether this setup stands beside another model, so that cars count. */
  acrossModels: boolean;
  /** Nobody vouches for any of those who drove it: on them alone it is not ranked. */
  isUnvouched: boolean;
  carVariationUnknown: boolean;
  sessionsMatter: boolean;
  carsMatter: boolean;
  repeatabilityAssumed: boolean;
  /** All components together, and the sampling variance of that sum; null where they are not known. */
  wholeVariance: { variance: number; varianceOfVariance: number } | null;
}

/** One row of the table of estimates. */
export function describeEstimate(
  setup: string,
  k: number,
  counts: SetupCounts,
  c: EstimateContext,
): Estimate {
  const singleRun = counts.n === 1;
  const oneCar = c.carsMatter && counts.cars === 1;
  const result = c.inference === null ? null : totalContrast(c.inference, [[k, 1]]);
  const df = result === null ? null : Math.max(0, result.df);
  const hasOwnInterval = !singleRun && !oneCar;
  const claims = result !== null && df !== null && df >= ENOUGH_DF && hasOwnInterval;
  const labels: EstimateLabel[] = [];
  if (singleRun) labels.push('single run');
  if (oneCar) labels.push('one car');
  if (c.sessionsMatter && counts.sessions === 1 && !singleRun) labels.push('one session');
  if (c.carVariationUnknown) labels.push('car variation unknown');
  if (result === null) labels.push('repeatability unknown');
  else if (df !== null && df < ENOUGH_DF && hasOwnInterval) labels.push('too few data');
  if (c.repeatabilityAssumed) labels.push('repeatability assumed');
  const half = claims ? tUpperQuantile((1 - c.level) / 2, df) * result.se : 0;
  const beta = result?.difference ?? counts.mean;
  const missing = missingCounts(counts, c);
  return {
    setup,
    n: counts.n,
    sessions: counts.sessions,
    cars: counts.cars,
    loops: counts.loops,
    beta,
    se: result?.se ?? null,
    df: df !== null && df >= LEAST_DF ? Math.min(df, 1e9) : null,
    interval95: claims ? [beta - half, beta + half] : null,
    singleRun,
    expectedVariation: hasOwnInterval ? null : expectedVariation(counts, c),
    labels,
    label: labels.join(', '),
    ranked: missing.length === 0 && result !== null,
    missing,
    restsOn: [],
  };
}

/**
 * t √(v_T + v_C + v_S + v + u²): what one run of one car would be expected to vary by, with Satterthwaite's degrees of
 * freedom for the sum of the components. Not an interval of the setup's mean: nothing of its own tells of that.
 */
function expectedVariation(counts: SetupCounts, c: EstimateContext): Estimate['expectedVariation'] {
  if (c.wholeVariance === null || c.carVariationUnknown) return null;
  const variance = c.wholeVariance.variance + counts.meanKnownVariance;
  const spread = c.wholeVariance.varianceOfVariance;
  const df = spread > 0 ? Math.min((2 * variance * variance) / spread, 1e9) : 1e9;
  if (df < ENOUGH_DF) return null;
  return { halfWidth: tUpperQuantile((1 - c.level) / 2, df) * Math.sqrt(variance), df };
}

function missingCounts(counts: SetupCounts, c: EstimateContext): Estimate['missing'] {
  const missing: Estimate['missing'] = [];
  const need = (what: Estimate['missing'][number]['what'], have: number, least: number) => {
    if (have < least) missing.push({ what, have, need: least });
  };
  need('runs', counts.n, c.minimum.runs);
  if (c.sessionsMatter) need('sessions', counts.sessions, c.minimum.sessions);
  if (c.isUnvouched) need('vouched', 0, 1);
  if (c.carsMatter && c.acrossModels) need('cars', counts.cars, c.minimum.cars);
  return missing;
}

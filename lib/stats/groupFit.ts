import type { Variances } from './accumulate';
import type { Connectivity } from './connectivity';
import type { DfMethod } from './inference';
import type { CriticalValue } from './maxT';
import type { SharedPart } from './scopes';

/** One run as handed to a fit. */
export interface FitRow {
  runId?: string;
  setup: string;
  /** The physical car. */
  car: string;
  /** The day of driving; unique within its car and loop. */
  session: string;
  /** ln of the normalised consumption in Wh/km. */
  z: number;
  /** Relative standard uncertainty of the run-scoped part (log scale). */
  u: number;
  /** The loop driven; a car on another loop counts as another car in the model. */
  loop?: string;
}

/** Variance components taken from a wider class because a group is too small for its own. */
export interface PooledComponents extends Variances {
  /** What they were pooled over, in words for the page: "cruise class 110 km/h". */
  from: string;
  /** Their covariance, 3 × 3 in the order car, session, residual. */
  covariance: number[][];
  /** (session, setup) cells with two runs or more, and residual degrees of freedom, behind them. */
  cells: number;
  residualDf: number;
}

export interface MinimumCounts {
  runs: number;
  sessions: number;
  /** Physical cars asked on each side of a comparison across models. */
  cars: number;
}

export interface FitOptions {
  seed?: number;
  /** Coverage of every interval, 0.95 unless told. */
  level?: number;
  /** Quasi-Monte Carlo points, 20 000 unless told. */
  draws?: number;
  pooledComponents?: PooledComponents;
  minimumCounts?: MinimumCounts;
  /** Names a setup's model; without it all setups count as one model. */
  modelOf?: (setup: string) => string;
  /** Overrides `modelOf`. */
  sameModel?: (a: string, b: string) => boolean;
  /** Components to leave out of the model altogether, as when the data have no such column. */
  drop?: readonly ('car' | 'session')[];
  /** Variances of the previous fit, to start from. */
  start?: Variances;
  /** Shared (session, car, model scoped) parts of a setup's uncertainty, stated beside the differences. */
  sharedParts?: (setup: string) => readonly SharedPart[];
}

export type EstimateLabel =
  | 'single run'
  | 'one car'
  | 'one session'
  | 'too few data'
  | 'car variation unknown'
  | 'repeatability unknown';

export interface Estimate {
  setup: string;
  n: number;
  sessions: number;
  /** Physical cars. */
  cars: number;
  loops: number;
  /** Fitted value, ln(Wh/km). */
  beta: number;
  se: number | null;
  df: number | null;
  /** Log scale; null for a single run, or where fewer than 1 degree of freedom would be claimed. */
  interval95: [number, number] | null;
  singleRun: boolean;
  /** For a single run: ± 1.96 √(v + u²) from the repeatability of other cells; null otherwise. */
  typicalRepeatability: { halfWidth: number; cells: number; df: number } | null;
  labels: EstimateLabel[];
  /** The labels as one phrase, '' when there is nothing to say. */
  label: string;
  ranked: boolean;
  /** What keeps it from being ranked. */
  missing: { what: 'runs' | 'sessions' | 'cars'; have: number; need: number }[];
}

export type ContrastKind = 'session' | 'car' | 'indirect' | 'across' | 'none';

export interface Contrast {
  a: string;
  b: string;
  kind: ContrastKind;
  /** Shared-car steps between the two; 1 when direct, 0 when none. */
  chainLength: number;
  /** beta[a] − beta[b], log scale; negative: a uses less. Null when the pair may not be compared. */
  difference: number | null;
  se: number | null;
  df: number | null;
  /** Pointwise interval, log scale. */
  interval95: [number, number] | null;
  /** Simultaneous interval over the family, log scale. */
  simultaneous: [number, number] | null;
  pHolm: number | null;
  separable: boolean;
  /** Standard uncertainty of the difference from parts that runs share, log scale, beside the interval. */
  sharedU: number | null;
  /** Why a number is missing; null when none is. */
  reason:
    | 'no car has driven both'
    | 'too few cars on one side'
    | 'too few data'
    | 'repeatability unknown'
    | null;
}

export interface Rank {
  setup: string;
  lower: number;
  upper: number;
  /** Rank set of this setup alone, from the pairs with it only. */
  marginal: { lower: number; upper: number };
  /** Simulated chance of being lowest, a plug-in figure; null where the group is too large to simulate. */
  chanceOfLowest: number | null;
  /** Letters of the inseparable groups it belongs to; '' when there are too many groups. */
  group: string;
  /** Ranked setups it cannot be told from. */
  inseparableFrom: string[];
}

export interface Repeatability {
  /** Standard deviation of repeated runs of a session, and its reproducibility across cars; log scale. */
  sr: number;
  sR: number;
  /** Limits for the difference of two results, 2.8 s (ISO 5725-6). */
  r: number;
  R: number;
  /** Mean known variance of a run, to be added to s² for a single result. */
  meanKnownVariance: number;
}

/** A fitted comparison group: plain data, complete enough that a page never computes a result. */
export interface GroupFit {
  /** n in = n used + n excluded. */
  nIn: number;
  nUsed: number;
  setups: string[];
  components: Variances;
  /** Covariance of the components, 3 × 3, and what a pooled use of them needs. */
  componentCovariance: number[][];
  pooled: boolean;
  pooledFrom: string | null;
  /** Components the layout cannot tell from another; held at 0. */
  unidentified: string[];
  /** Sentences a page must show about the components. */
  notes: string[];
  remlCriterion: number | null;
  converged: boolean;
  evaluations: number;
  boundary: string[];
  dfMethod: DfMethod | 'none';
  residualDf: number;
  replicatedCells: number;
  estimates: Estimate[];
  /** Covariance of the estimates in the order of `setups`; empty when no variance could be had. */
  covariance: number[][];
  contrasts: Contrast[];
  criticalValue: CriticalValue | null;
  ranks: Rank[];
  connectivity: Connectivity;
  repeatability: Repeatability | null;
  excluded: { row: FitRow; reason: string }[];
  seed: number;
  level: number;
}

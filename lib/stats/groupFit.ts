import type { Component, Variances } from './accumulate';
import type { Connectivity } from './connectivity';
import type { FitRow } from './fitRow';
import type { DfMethod } from './inference';
import type { CriticalValue } from './maxTFamily';
import type { ComponentPriors } from './moderation';
import type { SharedEffect } from './sharedEffects';
import type { Tie } from './testerClusters';

/** The variance of a car on one loop, from a wider set of runs, for a group where too few cars drove two loops. */
export interface PooledCarLoop {
  variance: number;
  /** Sampling variance of `variance`. */
  varianceOfVariance: number;
  /** What it was pooled over, in words for the page: "all 300 runs of 20 cars". */
  from: string;
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
  pooledCarLoop?: PooledCarLoop;
  /** With these a young class borrows what it cannot see (moderation.ts); without them nothing is assumed. */
  priors?: ComponentPriors;
  minimumCounts?: MinimumCounts;
  /** Names a setup's model where the rows do not. */
  modelOf?: (setup: string) => string;
  /** Testers that count as one, beside those who share a car. */
  ties?: readonly Tie[];
  /** Whether somebody vouches for a tester; without it everybody is vouched for. */
  isVouched?: (tester: string) => boolean;
  /** Components to leave out of the model altogether, as when the data have no such column. */
  drop?: readonly ('car' | 'carLoop' | 'session')[];
}

/**
 * Where a component comes from: `own` runs; `pooled` over other classes; `moderated`, own runs drawn toward an assumed
 * value; `assumed`, nothing of it seen; `none`, not in the model or not to be told apart in these data, taken as 0.
 */
export type ComponentOrigin = 'own' | 'pooled' | 'moderated' | 'assumed' | 'none';

export type EstimateLabel =
  | 'single run'
  | 'one car'
  | 'one session'
  | 'too few data'
  | 'car variation unknown'
  | 'repeatability unknown'
  | 'repeatability assumed';

export interface Estimate {
  setup: string;
  n: number;
  sessions: number;
  /** Physical cars. */
  cars: number;
  loops: number;
  /** Fitted value, ln(Wh/km). */
  beta: number;
  /** With what the runs share by model and method. */
  se: number | null;
  /** Null where fewer than 1 would be claimed. */
  df: number | null;
  /** Log scale; null for a single run or a single car, or where the data are too few. */
  interval95: [number, number] | null;
  singleRun: boolean;
  /** Where no interval can come from the setup's own runs: what one run of one car would be expected to vary by. */
  expectedVariation: { halfWidth: number; df: number } | null;
  labels: EstimateLabel[];
  /** The labels as one phrase, '' when there is nothing to say. */
  label: string;
  ranked: boolean;
  /** What keeps it from being ranked. */
  missing: { what: 'runs' | 'sessions' | 'cars' | 'vouched'; have: number; need: number }[];
  /** Clusters of testers with more than half of the influence on it: then it has no place in the ranking. */
  restsOn: string[];
}

export type ContrastKind = 'session' | 'car' | 'indirect' | 'across' | 'none';

/**
 * Strength of the evidence for a difference (method B6), by the widest family whose interval leaves 0 out: all
 * comparable pairs of the class, those of one model, or the pair alone.
 */
export const EVIDENCE = ['settled', 'probable', 'leaning', 'undecided'] as const;
export type Evidence = (typeof EVIDENCE)[number];

export interface Contrast {
  a: string;
  b: string;
  kind: ContrastKind;
  /** Shared-car steps between the two; 1 when direct, 0 when none. */
  chainLength: number;
  /** beta[a] − beta[b], log scale; negative: a uses less. Null when the pair may not be compared. */
  difference: number | null;
  /** Total: of the fit, and of what the runs share as far as it does not cancel. */
  se: number | null;
  /** Total degrees of freedom. */
  df: number | null;
  /** The shared part of `se`. */
  sharedSe: number | null;
  /** Log scale: the pair alone, all comparable pairs of its model, all comparable pairs of the class. */
  interval95: [number, number] | null;
  modelInterval: [number, number] | null;
  simultaneous: [number, number] | null;
  /** Null where the pair has no interval. */
  word: Evidence | null;
  /** Clusters of testers without whom, or with less of whom, it would be settled: then the word is the next lower. */
  restsOn: string[];
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
  /** Rank set from the differences that are settled. */
  lower: number;
  upper: number;
  /**
   * Simulated chance of being lowest among the setups that it may be compared with, a plug-in figure; null where the
   * group is too large to simulate.
   */
  chanceOfLowest: number | null;
  /** How many ranked setups that is, itself counted. */
  comparable: number;
  /** The set that differs most when one cluster of testers is left out; null where none differs. */
  without: { cluster: string; lower: number; upper: number } | null;
}

/** Precision of a single run, log scale, with the known part u² of its variance (method B8). */
export interface Repeatability {
  /** Of runs of one session; and across days, loops and cars. */
  sr: number;
  sR: number;
  /** Limits for the difference of two results, 2.8 s (ISO 5725-6). */
  r: number;
  R: number;
  /** Mean known variance of a run, as far as it is in the four above. */
  meanKnownVariance: number;
}

/** What the degrees of freedom of any sum of estimates follow from (satterthwaite.ts). */
export interface DfTerms {
  /** ∂(X'V⁻¹X)⁻¹/∂v_j by component, each m × m flat. */
  sensitivities: number[][];
  /** Of the components as the contrasts take it, 4 × 4. */
  componentCovariance: number[][];
}

export interface ModelCriticalValue extends CriticalValue {
  model: string;
}

/** A fitted comparison group: plain data, complete enough that a page never computes a result. */
export interface GroupFit {
  /** n in = n used + n excluded. */
  nIn: number;
  nUsed: number;
  setups: string[];
  components: Variances;
  origins: Record<Component, ComponentOrigin>;
  /** Covariance of the components, 4 × 4 in the order car, carLoop, session, residual. */
  componentCovariance: number[][];
  /** Physical cars, and how many of them drove two loops or more. */
  cars: number;
  carsOnTwoLoops: number;
  /** What a pooled car-on-loop variance was pooled over; null where none was used. */
  pooledFrom: string | null;
  /** Components the layout cannot tell from another; held at 0. */
  unidentified: string[];
  /** Sentences a page must show about the fit. */
  notes: string[];
  remlCriterion: number | null;
  converged: boolean;
  evaluations: number;
  boundary: string[];
  dfMethod: DfMethod | 'none';
  residualDf: number;
  replicatedCells: number;
  estimates: Estimate[];
  /** Total covariance of the estimates in the order of `setups`; empty when no variance could be had. */
  covariance: number[][];
  /** What one standard uncertainty of each shared input moves the estimates by. */
  sharedEffects: SharedEffect[];
  /**
   * L'(X'V⁻¹X)⁻¹L is at most this many times the fitted part of the covariance, for any L: more than 1 where what inputs do
   * unequally within sessions takes variance away.
   */
  spreadRatio: number;
  /** Null when no variance could be had, or for more setups than it is kept for. */
  dfTerms: DfTerms | null;
  contrasts: Contrast[];
  /** Of the class's family and of each model's, at the smallest degrees of freedom of its pairs. */
  criticalValue: CriticalValue | null;
  modelCriticalValues: ModelCriticalValue[];
  ranks: Rank[];
  connectivity: Connectivity;
  repeatability: Repeatability | null;
  excluded: { row: FitRow; reason: string }[];
  seed: number;
  level: number;
}

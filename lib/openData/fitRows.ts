import type { ContrastRow, EstimateRow, FitBasis } from '@/lib/stats/publishedFit';
import type { FitSummary } from '@/lib/stats/stored';
import type { Row } from './column';

/** Rows of the tables of fits: from what the registry published, and from what a verifier fitted anew. */

export interface FitAbout {
  cruiseClassKey: string;
  methodVersion: string;
  /** ISO 8601 in UTC. */
  fittedAt: string;
}

type Summed = Pick<
  FitSummary,
  | 'nIn'
  | 'nUsed'
  | 'notNormalised'
  | 'converged'
  | 'seed'
  | 'level'
  | 'components'
  | 'origins'
  | 'dfMethod'
  | 'residualDf'
  | 'remlCriterion'
  | 'repeatability'
  | 'criticalValue'
>;

export function fitRow(about: FitAbout, fit: Summed, basis: FitBasis): Row {
  return {
    cruise_class: about.cruiseClassKey,
    method_version: about.methodVersion,
    fitted_at: about.fittedAt,
    runs_in: fit.nIn,
    runs_used: fit.nUsed,
    runs_not_normalised: fit.notNormalised,
    converged: fit.converged,
    seed: fit.seed,
    level: fit.level,
    variance_car: fit.components.car,
    variance_car_loop: fit.components.carLoop,
    variance_session: fit.components.session,
    variance_run: fit.components.residual,
    origins: fit.origins,
    df_method: fit.dfMethod,
    residual_df: fit.residualDf,
    reml_criterion: fit.remlCriterion,
    repeatability_sd: fit.repeatability?.sr ?? null,
    reproducibility_sd: fit.repeatability?.sR ?? null,
    critical_value: fit.criticalValue?.value ?? null,
    least_runs: basis.minimumCounts.runs,
    least_sessions: basis.minimumCounts.sessions,
    least_cars: basis.minimumCounts.cars,
    pooled_car_loop: basis.pooledCarLoop,
    testers_as_one: basis.clusters,
    testers_not_vouched: basis.unvouched,
  };
}

/** The columns of an estimate as they were published, `details` as far as they are read. */
export interface PublishedEstimate extends Omit<EstimateRow, 'details' | 'missing'> {
  missing: readonly unknown[];
  details: {
    expectedVariation?: { halfWidth: number; df: number } | null | undefined;
    comparable?: number | null | undefined;
    restsOn?: readonly string[] | undefined;
    without?: object | null | undefined;
  };
}

export function estimateRow(cruiseClassKey: string, estimate: PublishedEstimate): Row {
  const { details } = estimate;
  return {
    cruise_class: cruiseClassKey,
    setup_id: estimate.setupId,
    runs: estimate.runs,
    cars: estimate.cars,
    testers: estimate.testers,
    loops: estimate.loops,
    days: estimate.days,
    sessions: estimate.sessions,
    log_mean: estimate.logMean,
    log_se: estimate.logSe,
    dof: estimate.dof,
    estimate_wh_per_km: estimate.estimateWhPerKm,
    low_wh_per_km: estimate.lowWhPerKm,
    high_wh_per_km: estimate.highWhPerKm,
    interval_kind: estimate.intervalKind,
    raw_mean_wh_per_km: estimate.rawMeanWhPerKm,
    is_ranked: estimate.isRanked,
    label: estimate.label === '' ? null : estimate.label,
    missing: estimate.missing,
    rank_lower: estimate.rankLower,
    rank_upper: estimate.rankUpper,
    comparable: details.comparable ?? null,
    chance_of_lowest: estimate.chanceOfLowest,
    component: estimate.component,
    expected_half_width: details.expectedVariation?.halfWidth ?? null,
    expected_dof: details.expectedVariation?.df ?? null,
    rests_on: details.restsOn ?? [],
    without: details.without ?? null,
  };
}

export interface PublishedContrast extends Omit<ContrastRow, 'details' | 'kind' | 'word' | 'reason'> {
  kind: string;
  word: string | null;
  reason: string | null;
  details: { restsOn?: readonly string[] | undefined };
}

export function contrastRow(cruiseClassKey: string, contrast: PublishedContrast): Row {
  return {
    cruise_class: cruiseClassKey,
    setup_a: contrast.setupAId,
    setup_b: contrast.setupBId,
    kind: contrast.kind,
    chain_length: contrast.chainLength,
    difference_log: contrast.differenceLog,
    log_se: contrast.logSe,
    dof: contrast.dof,
    low_log: contrast.lowLog,
    high_log: contrast.highLog,
    simultaneous_low_log: contrast.simultaneousLowLog,
    simultaneous_high_log: contrast.simultaneousHighLog,
    model_low_log: contrast.modelLowLog,
    model_high_log: contrast.modelHighLog,
    word: contrast.word,
    shared_u_log: contrast.sharedULog,
    reason: contrast.reason,
    rests_on: contrast.details.restsOn ?? [],
  };
}

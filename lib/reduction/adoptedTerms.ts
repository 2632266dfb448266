import type { RoadLoadBelief } from '@/lib/physics/learned';
import { type Prior, priorU, ROLLING_PRIORS, VEHICLE_PRIORS } from '@/lib/physics/priors';
import { type Changed, factorChanges } from '@/lib/run/factors';
import { type TyreKind, tyreKindOf } from '@/lib/run/tyreKind';
import type { ReductionSnapshot } from './snapshot';
import { tyresOf } from './tyresOf';

/** A model's learned road load as the method version in effect uses it. */
export interface AdoptedRoadLoad {
  /** The version that adopted it. */
  label: string;
  runs: number;
  posterior: RoadLoadBelief;
  /** Levels other than as delivered of the setup it was learned from; none where it was learned as delivered. */
  levels: readonly AdoptedLevel[];
}

interface AdoptedLevel {
  factor: string;
  levelId: string;
  tyreKind: TyreKind | null;
}

export interface LearnedValue {
  value: number;
  u: number;
}

/** What an adopted road load says of one run. */
export interface AdoptedTerms {
  /** Of the setup that it was learned from: one number, with one error, for all setups of the model. */
  dragAreaM2: LearnedValue;
  rollingCoefficient: LearnedValue;
  correlation: number;
  /** Of the run's setup over that of the learning; missing where no factor that changes it differs. */
  dragOfSetup?: LearnedValue;
  rollingOfSetup?: LearnedValue;
  words: string;
}

/**
 * The rule of adoption for one run (method A7): the learned value, times what the priors say of the run's setup over
 * what they say of the setup that it was learned from, where a factor that changes the term differs between the two.
 * All setups of a model share the error of the learning, so that it cancels between them; a change has one of its own.
 * Giving the learned values to setups as delivered alone would move contrasts within a day. A car's own values go before
 * both, and are left to the caller.
 *
 * What is learned are the ratios CdA/η and Crr/η. The engine divides by η itself, so they are given at the prior's η
 * with the uncertainty of the ratio alone: a wrong η scales drag and rolling alike, which the scale to the measured
 * energy takes out again, and η keeps its own uncertainty where it stays (climb, slow-downs).
 *
 * A run among those that the road load was learned from is then adjusted by what it helped to find: it is used twice.
 * Each run is first scaled to its own measured energy, so the level of the result is that of its own measurement, and
 * the posterior decides only how the adjustment divides between drag and rolling; one run's weight in it is about 1/n.
 * Neither the uncertainty of the posterior nor that of the run is widened for it, and how one car's share of drag
 * departs from its model's is not in it: the method's page says both.
 */
export function adoptedTerms(
  adopted: AdoptedRoadLoad,
  driven: Pick<ReductionSnapshot, 'model' | 'setup'>,
): AdoptedTerms {
  const changed = changedFactors(adopted, driven.setup.levels);
  const isChanged = (term: Changed) => changed.some((factor) => factorChanges(factor, term));
  const efficiency = VEHICLE_PRIORS.efficiency.value;
  const { mean, covariance } = adopted.posterior;
  const term = (i: number): LearnedValue => ({
    value: (mean[i] as number) * efficiency,
    u: Math.sqrt(covariance[i]?.[i] as number) * efficiency,
  });
  const learnedOn = tyreKindOf(
    ...adopted.levels.map(({ tyreKind }) => tyreKind),
    driven.model.deliveredTyreKind,
  );
  return {
    dragAreaM2: term(0),
    rollingCoefficient: term(1),
    correlation: correlationOf(covariance),
    // the prior for drag goes by the model alone
    ...(isChanged('drag') ? { dragOfSetup: ofChange(VEHICLE_PRIORS.changedDrag, 1, 0) } : {}),
    ...(isChanged('rolling') ? { rollingOfSetup: rollingChange(tyresOf(driven), learnedOn) } : {}),
    words: `learned from ${adopted.runs} runs of this model, adopted in version ${adopted.label}`,
  };
}

/**
 * Two priors p₁ and p₀ = p₁ over a change have relative variances that differ by that of the change (JCGM 100:2008,
 * 5.1.6, for a product): so much the priors know of it, and what any change may do beyond them is added to it.
 */
function rollingChange(driven: TyreKind, learned: TyreKind): LearnedValue {
  const [its, base] = [ROLLING_PRIORS[driven], ROLLING_PRIORS[learned]];
  const variance = (prior: Prior) => (prior.u / prior.value) ** 2;
  return ofChange(
    VEHICLE_PRIORS.changedRolling,
    its.value / base.value,
    Math.sqrt(Math.abs(variance(its) - variance(base))),
  );
}

function ofChange(prior: Prior, ratio: number, relativeU: number): LearnedValue {
  return { value: ratio, u: Math.hypot(priorU(prior, ratio), ratio * relativeU) };
}

function correlationOf(covariance: RoadLoadBelief['covariance']): number {
  const [[aa = 0, ar = 0] = [], [, rr = 0] = []] = covariance;
  // rounding may carry a near-degenerate posterior past one
  return Math.max(-1, Math.min(1, ar / Math.sqrt(aa * rr)));
}

/** Factors in which the run's setup is not as that of the learning; a factor without a level is as delivered. */
function changedFactors(
  adopted: AdoptedRoadLoad,
  setupLevels: ReductionSnapshot['setup']['levels'],
): string[] {
  const learned = new Map(adopted.levels.map(({ factor, levelId }) => [factor, levelId]));
  const driven = new Map(
    setupLevels.filter(({ isBaseline }) => !isBaseline).map(({ factor, levelId }) => [factor, levelId]),
  );
  return [...learned.keys(), ...driven.keys()].filter((factor) => learned.get(factor) !== driven.get(factor));
}

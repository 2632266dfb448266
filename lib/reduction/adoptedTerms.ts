import type { RoadLoadBelief } from '@/lib/physics/learned';
import { VEHICLE_PRIORS } from '@/lib/physics/priors';
import { type Changed, factorChanges } from '@/lib/run/factors';
import type { SetupLevelSnapshot } from './snapshot';

/** A model's learned road load as the method version in effect uses it. */
export interface AdoptedRoadLoad {
  /** The version that adopted it. */
  label: string;
  runs: number;
  posterior: RoadLoadBelief;
  /** Levels other than as delivered of the setup it was learned from; none where it was learned as delivered. */
  levels: readonly { factor: string; levelId: string }[];
}

export interface LearnedValue {
  value: number;
  u: number;
}

/** What of an adopted road load holds for one run. */
export interface AdoptedTerms {
  dragAreaM2?: LearnedValue;
  rollingCoefficient?: LearnedValue;
  /** Of the two, where both hold. */
  correlation?: number;
  words: string;
}

/**
 * The rule of adoption for one run: a term is taken from the adopted road load where the run's setup is, in every
 * factor that changes the term, at the level at which it was learned; otherwise the run keeps its prior. A car's own
 * values go before both, and are left to the caller.
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
  setupLevels: readonly Pick<SetupLevelSnapshot, 'factor' | 'levelId' | 'isBaseline'>[],
): AdoptedTerms {
  const changed = changedFactors(adopted, setupLevels);
  const holds = (term: Changed) => !changed.some((factor) => factorChanges(factor, term));
  const efficiency = VEHICLE_PRIORS.efficiency.value;
  const { mean, covariance } = adopted.posterior;
  const term = (i: number): LearnedValue => ({
    value: (mean[i] as number) * efficiency,
    u: Math.sqrt(covariance[i]?.[i] as number) * efficiency,
  });
  const drag = holds('drag') ? term(0) : undefined;
  const rolling = holds('rolling') ? term(1) : undefined;
  const words = `learned from ${adopted.runs} runs of this model, adopted in version ${adopted.label}`;
  return {
    words,
    ...(drag === undefined ? {} : { dragAreaM2: drag }),
    ...(rolling === undefined ? {} : { rollingCoefficient: rolling }),
    ...(drag === undefined || rolling === undefined ? {} : { correlation: correlationOf(covariance) }),
  };
}

function correlationOf(covariance: RoadLoadBelief['covariance']): number {
  const [[aa = 0, ar = 0] = [], [, rr = 0] = []] = covariance;
  // rounding may carry a near-degenerate posterior past one
  return Math.max(-1, Math.min(1, ar / Math.sqrt(aa * rr)));
}

/** Factors in which the run's setup is not as that of the learning; a factor without a level is as delivered. */
function changedFactors(
  adopted: AdoptedRoadLoad,
  setupLevels: readonly Pick<SetupLevelSnapshot, 'factor' | 'levelId' | 'isBaseline'>[],
): string[] {
  const learned = new Map(adopted.levels.map(({ factor, levelId }) => [factor, levelId]));
  const driven = new Map(
    setupLevels.filter(({ isBaseline }) => !isBaseline).map(({ factor, levelId }) => [factor, levelId]),
  );
  return [...learned.keys(), ...driven.keys()].filter((factor) => learned.get(factor) !== driven.get(factor));
}

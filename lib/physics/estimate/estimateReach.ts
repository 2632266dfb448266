import { solveIncreasing } from '@/lib/numerics/rootFinding';
import { layOutCase } from '../caseInputs';
import { indexOfInput } from '../inputs';
import { REACH_LIMITS, type ReachLimits, type ReachReason, reasonsOutsideReach } from '../reach';
import { JOULE_PER_METRE_PER_WH_PER_KM } from '../roadLoad';
import { consumptionAt } from './consumptionAt';
import { type ReaderCar, type ReaderConditions, readerCase } from './readerCase';

/** A condition that an answer stops at, and the nearest to what was asked that it still reaches. */
export interface NearestCondition {
  /** A wind at 10 m is from the same direction, with its gusts in proportion. */
  readonly condition: 'airTemperatureC' | 'cruiseSpeedMps' | 'windSpeedMps' | 'netClimbM';
  readonly asked: number;
  readonly nearest: number;
}

export interface EstimateRefusal {
  /** Of the method's reach; empty where only the descent is too steep. */
  readonly reasons: readonly ReachReason[];
  /** One for each condition outside; with all of them together the answer is within reach. */
  readonly nearest: readonly NearestCondition[];
}

const AUXILIARY = indexOfInput('auxiliaryPowerW');
/** What rounding to a limit may lose. */
const WITHIN = 1e-9;

/**
 * Null within reach. Outside it an estimate is refused, not stretched: the limits are those of a run (reach.ts), and
 * a descent that gives back more than a half of the road load is one more.
 */
export function outsideEstimate(
  car: ReaderCar,
  conditions: ReaderConditions,
  classSpeedMps: number,
  referenceWhPerKm: number,
  limits: ReachLimits = REACH_LIMITS,
): EstimateRefusal | null {
  const asked = readerCase(car, conditions, classSpeedMps);
  const reasons = reasonsOutsideReach(asked.run, layOutCase(asked).reference, limits);
  const nearest: NearestCondition[] = [];
  let within = conditions;
  for (const { code } of reasons) {
    if (code === 'cold' || code === 'hot') {
      const value = code === 'cold' ? limits.coldestC : limits.hottestC;
      nearest.push({ condition: 'airTemperatureC', asked: conditions.airTemperatureC, nearest: value });
      within = { ...within, airTemperatureC: value };
    } else if (code === 'cruiseSpeed') {
      const value =
        classSpeedMps + Math.sign(conditions.cruiseSpeedMps - classSpeedMps) * limits.cruiseFromClassMps;
      nearest.push({ condition: 'cruiseSpeedMps', asked: conditions.cruiseSpeedMps, nearest: value });
      within = { ...within, cruiseSpeedMps: value };
    } else if (code === 'wind') {
      const wind = calmerWind(car, conditions, classSpeedMps, limits.windAtCarHeightMps);
      nearest.push({
        condition: 'windSpeedMps',
        asked: conditions.wind.speedMps,
        nearest: wind.speedMps,
      });
      within = { ...within, wind };
    }
  }
  const least = leastClimbM(car, within, classSpeedMps, referenceWhPerKm);
  if (conditions.netClimbM < least) {
    nearest.push({ condition: 'netClimbM', asked: conditions.netClimbM, nearest: least });
  }
  return nearest.length === 0 ? null : { reasons, nearest };
}

/** The asked wind, weaker as far as its rms at car height needs to be. */
function calmerWind(
  car: ReaderCar,
  conditions: ReaderConditions,
  classSpeedMps: number,
  limitMps: number,
): ReaderConditions['wind'] {
  const { wind } = conditions;
  const weaker = (share: number) => ({
    ...wind,
    speedMps: share * wind.speedMps,
    gustMps: wind.gustMps === undefined ? undefined : share * wind.gustMps,
  });
  const excess = (share: number) => {
    const { run } = readerCase(car, { ...conditions, wind: weaker(share) }, classSpeedMps);
    return Math.hypot(run.alongWindMps, run.crossWindMps) - limitMps;
  };
  return weaker(solveIncreasing(excess, 0, 1) * (1 - WITHIN));
}

/**
 * Of the road load, what a descent may give back. As it nears all of it the car brakes on ever more of the way, which the
 * model has no term for, and a range grows beyond all bounds with an uncertainty to match: at a half it is twice that on
 * the level. Own judgement, no source.
 */
const MOST_GIVEN_BACK = 0.5;

/**
 * Net climb that gives back so much of the road load: a steady drive uses
 * e = road load + auxiliary + (what a metre of climb takes)·Δh.
 */
function leastClimbM(
  car: ReaderCar,
  conditions: ReaderConditions,
  classSpeedMps: number,
  referenceWhPerKm: number,
): number {
  const climbing = (netClimbM: number) => readerCase(car, { ...conditions, netClimbM }, classSpeedMps);
  const at = (netClimbM: number) =>
    consumptionAt(climbing(netClimbM), referenceWhPerKm, 'drawn').valueWhPerKm;
  const level = at(0);
  const auxiliaryW = layOutCase(climbing(0)).x[AUXILIARY] as number;
  const auxiliary = auxiliaryW / (JOULE_PER_METRE_PER_WH_PER_KM * conditions.cruiseSpeedMps);
  return (-MOST_GIVEN_BACK * (level - auxiliary)) / (at(1) - level);
}

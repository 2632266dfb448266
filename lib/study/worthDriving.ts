import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Variances } from '@/lib/stats/accumulate';
import {
  addedInformation,
  type CarSoFar,
  type FittedCovariance,
  type SessionWeights,
  varianceWith,
} from '@/lib/stats/nextSession';
import { PLAN_DEFAULTS } from './planForm';
import { type ReckoningBasis, timeOf } from './reckoning';

/** A day that could be driven: which setups, in which order. */
export const DAYS_TO_DRIVE = ['A B B A', 'A B', 'A', 'B'] as const;
export type DayToDrive = (typeof DAYS_TO_DRIVE)[number];

/** A difference of two setups of one model that is not settled; A is the baseline. */
export interface OpenPair {
  baselineId: string;
  setupId: string;
  modelId: string;
  /** Standard error of the logarithm, total; its part that no further runs make smaller; degrees of freedom. */
  se: number;
  sharedU: number;
  dof: number;
}

/** A car, or one that is new to the registry, on a loop that it may drive. */
export interface CarOnLoop {
  /** Undefined for a car that is new. */
  carId: string | undefined;
  modelId: string;
  soFar: CarSoFar;
  loop: { id: string; name: string; lengthM: number };
}

/** What one day would do to one difference. */
export interface WorthDriving {
  pair: OpenPair;
  day: DayToDrive;
  car: CarOnLoop;
  hours: number;
  /** Charging is in the hours. */
  isChargingKnown: boolean;
  /** Half-widths of the pair's own 95 % interval, of the logarithm, now and after such a day. */
  halfWidth: number;
  halfWidthAfter: number;
  /** By how much the half-width shrinks for an hour. */
  gainPerHour: number;
  /** A car that is new would do nearly as well on that loop. */
  anyCar: boolean;
}

const BETWEEN_RUNS_S = 60 * Number(PLAN_DEFAULTS.betweenRunsMin);
/** A new car counts as good as a known one from this share of its gain on. */
const NEARLY_AS_GOOD = 0.95;

export interface ClassFitted extends FittedCovariance {
  components: Variances;
  /** Mean u² of its runs: what a further one is expected to have. */
  knownVariance: number;
}

/**
 * Of each pair the day that makes its interval narrower by most for an hour (method C2), those that teach most first; of
 * one model and factor only the first.
 *
 * Half-width is t₀.₉₇₅(ν) s at the degrees of freedom of now, so that a day is not praised for degrees of freedom that
 * nobody can foresee. What runs share by model and method stays as it is.
 *
 * @param reckonedFrom what hours follow from; null where a pair's class and loop give none
 */
export function worthDriving(
  pairs: readonly OpenPair[],
  cars: readonly CarOnLoop[],
  fitted: ClassFitted,
  reckonedFrom: (pair: OpenPair, car: CarOnLoop) => ReckoningBasis,
): WorthDriving[] {
  return pairs
    .flatMap((pair) => {
      const own = cars.filter(({ modelId }) => modelId === pair.modelId);
      const all = own.flatMap((car) =>
        DAYS_TO_DRIVE.flatMap((day) => worthOf(pair, car, day, fitted, reckonedFrom(pair, car)) ?? []),
      );
      const [best] = all.toSorted(byGain);
      if (best === undefined) return [];
      const asNew = all.find(
        ({ car, day }) => car.carId === undefined && car.loop.id === best.car.loop.id && day === best.day,
      );
      const anyCar = asNew !== undefined && asNew.gainPerHour >= NEARLY_AS_GOOD * best.gainPerHour;
      return [{ ...best, anyCar }];
    })
    .toSorted(byGain);
}

function byGain(one: WorthDriving, other: WorthDriving): number {
  return (
    other.gainPerHour - one.gainPerHour ||
    compare(one.pair.setupId, other.pair.setupId) ||
    compare(one.pair.baselineId, other.pair.baselineId)
  );
}

const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

function worthOf(
  pair: OpenPair,
  car: CarOnLoop,
  day: DayToDrive,
  fitted: ClassFitted,
  basis: ReckoningBasis,
): WorthDriving | undefined {
  const runs = day.split(' ').map((letter) => (letter === 'A' ? pair.baselineId : pair.setupId));
  const runVariance = fitted.components.residual + fitted.knownVariance;
  if (!(runVariance > 0)) return undefined;
  const session = weightsOf(runs, 1 / runVariance);
  const added = addedInformation(car.soFar, { loop: car.loop.id, session }, fitted.components);
  const { before, after } = varianceWith(fitted, { a: pair.setupId, b: pair.baselineId }, added);
  const t = tUpperQuantile(0.025, pair.dof);
  const halfWidth = t * pair.se;
  const least = pair.sharedU ** 2;
  const halfWidthAfter = t * Math.sqrt(Math.max(least, pair.se ** 2 - Math.max(0, before - after)));
  const { drivingS, betweenS, charging } = timeOf([runs], BETWEEN_RUNS_S, basis);
  const hours = (drivingS + betweenS + (charging?.timeS ?? 0)) / 3600;
  const gainPerHour = (halfWidth - halfWidthAfter) / hours;
  if (!(gainPerHour > 0)) return undefined;
  return {
    pair,
    day,
    car,
    hours,
    isChargingKnown: charging !== null,
    halfWidth,
    halfWidthAfter,
    gainPerHour,
    anyCar: false,
  };
}

function weightsOf(runs: readonly string[], weight: number): SessionWeights {
  const weights = new Map<string, number>();
  for (const setup of runs) weights.set(setup, (weights.get(setup) ?? 0) + weight);
  return weights;
}

import { type EstimatePart, estimateParts } from '@/lib/answers/estimateParts';
import type { EstimateRefusal } from '@/lib/physics/estimate/estimateReach';
import { type RangeEstimate, rangeDifference, rangeOf } from '@/lib/physics/estimate/range';
import type { ReaderConditions } from '@/lib/physics/estimate/readerCase';
import type { ChargingStop } from '@/lib/physics/estimate/trip';
import {
  bestCruiseSpeed,
  estimateTrip,
  type TripEstimate,
  tripDifference,
} from '@/lib/physics/estimate/tripIntervals';
import type { BatteryAsked } from '@/lib/physics/estimate/tripPlan';
import type { Simulation } from '@/lib/physics/monteCarlo';
import type { SetupToEstimate } from '@/lib/store/estimates';
import type { MethodInEffect } from '../method/methodInEffect';
import {
  answerIn,
  type EstimatedAnswer,
  type EstimatedClass,
  type Ranged,
  uOfLogs,
} from './estimatedClasses';

/** One seed for all: the same question gives the same digits. */
const SEED = 20_261;
const DRAWS = { seed: SEED, draws: 2000 };
/** Of each of several speeds. */
const SPEED_DRAWS = { seed: SEED, draws: 500 };

export interface TripShown {
  readonly stops: readonly ChargingStop[];
  readonly drivingS: number;
  readonly totalS: Ranged;
  readonly chargingS: Ranged;
  /** Null without a price. */
  readonly cost: Ranged | null;
  readonly drawnWh: number;
  readonly chargedWh: number;
  readonly arrivalCharge: number;
  /** How often the trip took so many stops, of all that is not known. */
  readonly stopShares: TripEstimate['stops'];
}

/** One setup on one trip. */
export interface SetupEstimate {
  readonly slug: string;
  readonly title: string;
  readonly runs: number;
  readonly cars: number;
  readonly whPerKm: Ranged;
  readonly referenceWhPerKm: number;
  readonly steps: EstimatedAnswer['steps'];
  /** In metres; null where nobody knows the battery. */
  readonly rangeM: Ranged | null;
  /** Of the range where there is one, else of the consumption. */
  readonly parts: readonly EstimatePart[];
  /** Null where it takes more stops than anybody would make, or nobody knows the battery. */
  readonly trip: TripShown | null;
}

export interface TripDifferences {
  /** The second setup's less the first's. */
  readonly rangeM: Ranged;
  readonly totalS: Ranged | null;
  readonly cost: Ranged | null;
}

export interface SpeedShown {
  readonly key: string;
  readonly label: string;
  readonly speedMps: number;
  readonly whPerKm: Ranged;
  readonly totalS: Ranged;
  readonly stops: number;
}

export interface BestSpeedShown {
  readonly outcomes: readonly SpeedShown[];
  readonly best: SpeedShown;
  /** Ends of where the best of these speeds lies, m/s. */
  readonly within: readonly [number, number];
}

/** What is asked of every setup alike. */
export interface TripAsked {
  readonly method: MethodInEffect;
  readonly conditions: ReaderConditions;
  readonly loadKg: number | undefined;
  readonly battery: BatteryAsked | undefined;
}

export interface Computed {
  readonly refusal: null;
  readonly shown: SetupEstimate;
  /** What a difference is made from. */
  readonly answer: EstimatedAnswer;
  readonly range: RangeEstimate | null;
}

/** Consumption, range and trip of one setup, from one class. */
export function estimateOfSetup(
  setup: SetupToEstimate,
  of: EstimatedClass,
  { method, conditions, loadKg, battery }: TripAsked,
): Computed | { readonly refusal: EstimateRefusal } {
  const answer = answerIn(setup, of, method, conditions, loadKg);
  if (answer.refusal !== null) return answer;
  const { consumption, whPerKm, referenceWhPerKm, steps, variance } = answer;
  const range =
    battery === undefined
      ? null
      : rangeOf(consumption, {
          ...battery,
          fromCharge: battery.plan.startCharge,
          toCharge: battery.plan.endCharge,
        });
  const plan = battery && { ...battery.plan, speedMps: conditions.cruiseSpeedMps };
  const trip = plan && estimateTrip(plan, { ...battery, consumption }, DRAWS);
  const capacity = range && {
    variance: range.ofEnergy ** 2,
    isMeasured: battery?.battery.basis === 'measured',
  };
  return {
    refusal: null,
    shown: {
      slug: setup.slug,
      title: setup.title,
      runs: of.runs,
      cars: of.cars,
      whPerKm,
      referenceWhPerKm,
      steps,
      rangeM: range && ranged(range.rangeM, range.interval95M),
      parts: estimateParts(variance, of.fit.origins, capacity ?? undefined),
      trip: trip ? shownTrip(trip) : null,
    },
    answer,
    range,
  };
}

/** What the second setup does on the same trip of the same car, less what the first does. */
export function differencesOf(
  of: EstimatedClass,
  [first, second]: readonly [Computed, Computed],
  { battery, conditions }: TripAsked,
): TripDifferences | null {
  if (battery === undefined || first.range === null || second.range === null) return null;
  const answers = [second.answer, first.answer] as const;
  const range = rangeDifference(second.range, first.range, (weights) => uOfLogs(of.fit, answers, weights));
  const trip = tripDifference(
    { ...battery.plan, speedMps: conditions.cruiseSpeedMps },
    { ...battery, consumption: second.answer.consumption },
    first.answer.consumption,
    uOfLogs(of.fit, answers, [1, -1]).u,
    DRAWS,
  );
  const between = (
    a: Ranged | null | undefined,
    b: Ranged | null | undefined,
    simulated?: Simulation | null,
  ) => (a && b && simulated ? ranged(a.value - b.value, simulated.interval95) : null);
  const [before, after] = [first.shown.trip, second.shown.trip];
  return {
    rangeM: ranged(range.differenceM, range.interval95M),
    totalS: between(after?.totalS, before?.totalS, trip?.totalS),
    cost: between(after?.cost, before?.cost, trip?.cost),
  };
}

/** The same trip at the speed of every class that the setup was driven in; null with fewer than two. */
export function bestSpeedOf(
  setup: SetupToEstimate,
  classes: readonly EstimatedClass[],
  { method, conditions, loadKg, battery }: TripAsked,
): BestSpeedShown | null {
  if (battery === undefined) return null;
  const options = classes.flatMap((of) => {
    const at = { ...conditions, cruiseSpeedMps: of.speedMps };
    const answer = answerIn(setup, of, method, at, loadKg);
    return answer.refusal === null
      ? [{ of, speedMps: of.speedMps, consumption: answer.consumption, whPerKm: answer.whPerKm }]
      : [];
  });
  if (options.length < 2) return null;
  const found = bestCruiseSpeed(battery.plan, battery, options, SPEED_DRAWS);
  if (found === null || found.outcomes.length < 2) return null;
  const outcomes = found.outcomes.flatMap(({ speedMps, estimate }): SpeedShown[] => {
    const option = options.find((one) => one.speedMps === speedMps);
    if (option === undefined) return [];
    const { key, label } = option.of;
    const { trip, totalS } = estimate;
    return [
      {
        key,
        label,
        speedMps,
        whPerKm: option.whPerKm,
        totalS: ranged(trip.totalS, totalS.interval95),
        stops: trip.stops.length,
      },
    ];
  });
  const best = outcomes.find(({ speedMps }) => speedMps === found.best.speedMps);
  return best === undefined ? null : { outcomes, best, within: found.simulated.interval95 };
}

function shownTrip({ trip, totalS, chargingS, cost, stops }: TripEstimate): TripShown {
  const { drivingS, drawnWh, chargedWh, arrivalCharge } = trip;
  return {
    stops: trip.stops,
    drivingS,
    totalS: ranged(trip.totalS, totalS.interval95),
    chargingS: ranged(trip.chargingS, chargingS.interval95),
    cost: trip.cost === null || cost === null ? null : ranged(trip.cost, cost.interval95),
    drawnWh,
    chargedWh,
    arrivalCharge,
    stopShares: stops,
  };
}

function ranged(value: number, [low, high]: readonly [number, number]): Ranged {
  return { value, low, high };
}

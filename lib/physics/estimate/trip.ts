import { CHARGING_EFFICIENCY } from '../reconcile';
import { type ChargingCurve, chargingTimeS } from './taper';

export interface TripPlan {
  readonly distanceM: number;
  readonly speedMps: number;
  /** At departure, and the least wanted at the destination; 0..1. */
  readonly startCharge: number;
  readonly endCharge: number;
  /** The bounds between which the car is charged and driven on the way. */
  readonly lowCharge: number;
  readonly highCharge: number;
  readonly curve: ChargingCurve;
  /** Leaving the road, plugging in and getting back, at each stop. */
  readonly stopOverheadS: number;
  /** Per Wh bought, where one is named: of the charge at departure, and at the chargers on the way. */
  readonly price?: { readonly startPerWh: number; readonly onTheWayPerWh: number } | undefined;
}

/** What a trip hangs on that is not known exactly. */
export interface TripValues {
  readonly consumptionWhPerKm: number;
  /** Usable when warm. */
  readonly capacityWh: number;
  /** Of the energy in the battery, what the first stretch has of it: below 1 for a cold battery. */
  readonly firstStretchShare: number;
  /** Of the charging curve's power, what is met. */
  readonly powerShare: number;
}

export interface ChargingStop {
  readonly afterM: number;
  readonly fromCharge: number;
  readonly toCharge: number;
  readonly chargingS: number;
}

export interface Trip {
  readonly stops: readonly ChargingStop[];
  readonly drivingS: number;
  readonly chargingS: number;
  readonly totalS: number;
  readonly arrivalCharge: number;
  readonly drawnWh: number;
  /** Into the battery, on the way. */
  readonly chargedWh: number;
  /** Null without a price. */
  readonly cost: number | null;
}

/** More stops than this are no trip that anybody asks about. */
export const MOST_STOPS = 100;
/** A rest of charge smaller than this is rounding. */
const NO_CHARGE = 1e-9;

export function checkPlan(plan: TripPlan): void {
  const { distanceM, speedMps, startCharge, endCharge, lowCharge, highCharge } = plan;
  if (!(distanceM > 0 && speedMps > 0)) throw new RangeError('a trip has a distance and a speed above zero');
  if (!(lowCharge >= 0 && highCharge <= 1 && highCharge > lowCharge)) {
    throw new RangeError('the car is charged from a lower to a higher state of charge between 0 and 1');
  }
  if (!(startCharge > 0 && startCharge <= 1)) throw new RangeError('the charge at departure is above 0');
  if (!(endCharge >= 0 && endCharge <= highCharge)) {
    throw new RangeError('the charge at the destination is no more than a stop charges to');
  }
}

/**
 * A trip with stops wherever the charge has fallen to the lower bound, each charging no further than the higher one nor
 * than is needed to arrive as wanted; null where it would take more than {@link MOST_STOPS}. Chargers are taken to stand
 * where they are needed. Energy balance: driving draws e per kilometre, charging adds to the battery, and what is bought
 * is what enters it over the charging efficiency (0.92 by DC on the way; 0.88 by AC for the charge at departure). What is
 * paid at home brings the state of charge back to that at departure, with the battery warm: it holds what a cold battery
 * lost on the first stretch, too (charge taken from it, not energy delivered, has to be put back; that all of the loss is
 * of this kind is common practice, no source). A car that arrives fuller than it left has that back.
 */
export function planTrip(plan: TripPlan, values: TripValues): Trip | null {
  const { lowCharge, highCharge, endCharge, curve, stopOverheadS, distanceM } = plan;
  const { capacityWh, consumptionWhPerKm } = values;
  const drawnWh = (consumptionWhPerKm * distanceM) / 1000;
  const firstCapacity = capacityWh * values.firstStretchShare;
  const stops: ChargingStop[] = [];
  let left = drawnWh;
  let charge = plan.startCharge;
  // the first stretch, on what the charge at departure gives: as far as is asked, else down to the lower bound
  const wanted = (charge - endCharge) * firstCapacity;
  const onStart = left <= wanted ? left : Math.min(left, Math.max(0, charge - lowCharge) * firstCapacity);
  charge = onStart === left ? Math.max(0, charge - left / firstCapacity) : Math.min(charge, lowCharge);
  left -= onStart;
  while (left > 0 || charge < endCharge - NO_CHARGE) {
    if (stops.length === MOST_STOPS) return null;
    const afterM = distanceM * (1 - left / drawnWh);
    const to = Math.max(charge, Math.min(highCharge, endCharge + left / capacityWh));
    // The first stop is one even where a warm battery would just have done without charging: it is not warm before.
    if (to > charge || stops.length === 0) {
      const chargingS = chargingTimeS(curve, capacityWh, charge, to) / values.powerShare;
      stops.push({ afterM, fromCharge: charge, toCharge: to, chargingS });
      charge = to;
    }
    const isLast = endCharge + left / capacityWh <= charge + NO_CHARGE;
    const stretch = isLast ? left : Math.min(left, (charge - lowCharge) * capacityWh);
    charge = stretch === left ? Math.max(0, charge - left / capacityWh) : lowCharge;
    left -= stretch;
  }
  const chargingS = stops.reduce((sum, stop) => sum + stop.chargingS, 0);
  const chargedWh = stops.reduce((sum, stop) => sum + (stop.toCharge - stop.fromCharge) * capacityWh, 0);
  const drivingS = distanceM / plan.speedMps;
  return {
    stops,
    drivingS,
    chargingS,
    totalS: drivingS + chargingS + stops.length * stopOverheadS,
    arrivalCharge: charge,
    drawnWh,
    chargedWh,
    cost:
      plan.price === undefined
        ? null
        : costOf(plan.price, (plan.startCharge - charge) * capacityWh, chargedWh),
  };
}

function costOf(price: NonNullable<TripPlan['price']>, atStartWh: number, onTheWayWh: number): number {
  const { ac, dc } = CHARGING_EFFICIENCY;
  return (price.startPerWh * atStartWh) / ac.value + (price.onTheWayPerWh * onTheWayWh) / dc.value;
}

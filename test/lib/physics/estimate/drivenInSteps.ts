import type { ChargingCurve } from '@/lib/physics/estimate/taper';
import type { TripPlan, TripValues } from '@/lib/physics/estimate/trip';

/** Charging and driving second by second, written for the tests and with nothing of the code they check. */
function powerAt({ points }: ChargingCurve, charge: number): number {
  const right = points.findIndex((point) => point.charge >= charge);
  if (right === 0) return points[0]?.powerW as number;
  if (right < 0) return points.at(-1)?.powerW as number;
  const [a, b] = [points[right - 1], points[right]] as [
    ChargingCurve['points'][0],
    ChargingCurve['points'][0],
  ];
  return a.powerW + ((charge - a.charge) / (b.charge - a.charge)) * (b.powerW - a.powerW);
}

export function chargedInSteps(
  curve: ChargingCurve,
  capacityWh: number,
  from: number,
  to: number,
  limitW = Number.POSITIVE_INFINITY,
): number {
  let charge = from;
  let seconds = 0;
  while (charge < to) {
    charge += Math.min(limitW, powerAt(curve, charge)) / 3600 / capacityWh;
    seconds += 1;
  }
  return seconds;
}

export interface DrivenTrip {
  totalS: number;
  stops: number;
  chargedWh: number;
  arrivalCharge: number;
}

/** One second at a time: drive until the lower bound, then charge until the rest of the way fits or the upper bound is met. */
export function drivenInSteps(plan: TripPlan, values: TripValues): DrivenTrip {
  const perSecondWh = (values.consumptionWhPerKm * plan.speedMps) / 1000;
  let [charge, droveM, totalS, stops, chargedWh] = [plan.startCharge, 0, 0, 0, 0];
  let capacityWh = values.capacityWh * values.firstStretchShare;
  const reaches = () =>
    charge - ((plan.distanceM - droveM) * values.consumptionWhPerKm) / 1000 / capacityWh >= plan.endCharge;
  while (droveM < plan.distanceM) {
    if (charge <= plan.lowCharge && !reaches()) {
      stops += 1;
      totalS += plan.stopOverheadS;
      capacityWh = values.capacityWh;
      while (charge < plan.highCharge && !reaches()) {
        const addedWh = (powerAt(plan.curve, charge) * values.powerShare) / 3600;
        charge += addedWh / capacityWh;
        chargedWh += addedWh;
        totalS += 1;
      }
    }
    droveM += plan.speedMps;
    charge -= perSecondWh / capacityWh;
    totalS += 1;
  }
  return { totalS, stops, chargedWh, arrivalCharge: charge };
}

import type { EstimateAsked } from '@/lib/run/estimate/parseEstimate';
import { type CurveBasis, chargingCurve } from './chargingCurve';
import { limitedBy } from './taper';
import type { TripPlan } from './trip';
import type { TripKnown } from './tripIntervals';
import type { BatteryKnown } from './usableEnergy';

export interface BatteryAsked extends Pick<TripKnown, 'battery' | 'batteryTemperatureC'> {
  readonly plan: Omit<TripPlan, 'speedMps'>;
  readonly curveBasis: CurveBasis;
}

/** What is asked of battery, charging and price; undefined where nobody knows the capacity. */
export function batteryAsked(
  asked: EstimateAsked,
  capacityWhenNewWh: number | null,
  stated: Parameters<typeof chargingCurve>[0],
): BatteryAsked | undefined {
  const battery = batteryKnown(asked, capacityWhenNewWh);
  if (battery === undefined) return undefined;
  const charging = chargingCurve(stated, battery.capacityWh);
  if (charging === null) return undefined;
  const { curve, basis } = charging;
  return {
    battery,
    batteryTemperatureC: asked.battery ?? asked.air,
    curveBasis: basis,
    plan: {
      distanceM: asked.trip,
      startCharge: asked.start,
      endCharge: asked.arrive,
      lowCharge: asked.low,
      highCharge: asked.high,
      curve: asked.charger === undefined ? curve : limitedBy(curve, asked.charger),
      stopOverheadS: asked.stop,
      price: priceOf(asked),
    },
  };
}

function batteryKnown(
  { capacity, capacityOff }: EstimateAsked,
  capacityWhenNewWh: number | null,
): BatteryKnown | undefined {
  if (capacity !== undefined) return { basis: 'measured', capacityWh: capacity, uWh: capacityOff ?? 0 };
  return capacityWhenNewWh === null ? undefined : { basis: 'new', capacityWh: capacityWhenNewWh };
}

const WH_PER_KWH = 1000;

/** One price stands for both where only one is named. */
function priceOf({ homePrice, wayPrice }: EstimateAsked): TripPlan['price'] {
  const home = homePrice ?? wayPrice;
  const way = wayPrice ?? homePrice;
  if (home === undefined || way === undefined) return undefined;
  return { startPerWh: home / WH_PER_KWH, onTheWayPerWh: way / WH_PER_KWH };
}

import { interval95 } from '../budget';
import { type ChargingCurve, chargingTimeS, powerPrior } from './taper';
import { type BatteryKnown, warmCapacity } from './usableEnergy';

export interface ChargingSpan {
  readonly fromCharge: number;
  readonly toCharge: number;
  readonly timeS: number;
  readonly interval95S: readonly [number, number];
}

/**
 * Time in s to charge a warm battery from one state of charge to a higher one, at a charger that gives all that the
 * curve takes. Capacity and power enter as a quotient, so their relative uncertainties add in squares
 * (JCGM 100:2008, 5.1.6), and the interval is taken on the log scale; both are priors with infinite degrees of freedom.
 */
export function chargingSpan(
  curve: ChargingCurve,
  battery: BatteryKnown,
  fromCharge: number,
  toCharge: number,
): ChargingSpan {
  const { capacityWh, uWh } = warmCapacity(battery);
  const power = powerPrior(curve);
  const timeS = chargingTimeS(curve, capacityWh, fromCharge, toCharge) / power.value;
  const relativeU = Math.hypot(uWh / capacityWh, power.u / power.value);
  const [low, high] = interval95(Math.log(timeS), relativeU, Number.POSITIVE_INFINITY);
  return { fromCharge, toCharge, timeS, interval95S: [Math.exp(low), Math.exp(high)] };
}

import { interval95 } from '../budget';
import type { Prior } from '../priors';
import { type ChargingCurve, chargingTimeS, powerPrior } from './taper';
import { type BatteryKnown, warmCapacity } from './usableEnergy';

export interface ChargingSpan {
  readonly fromCharge: number;
  readonly toCharge: number;
  readonly timeS: number;
  readonly interval95S: readonly [number, number];
}

/**
 * What share of a curve's power is met in 95 of 100 cases: on the log scale, as the time that follows from it, so that
 * both ends are above nothing.
 */
export function powerMet95(curve: ChargingCurve): [low: number, high: number] {
  const { value, u }: Prior = powerPrior(curve);
  const [low, high] = interval95(Math.log(value), u / value, Number.POSITIVE_INFINITY);
  return [Math.exp(low), Math.exp(high)];
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

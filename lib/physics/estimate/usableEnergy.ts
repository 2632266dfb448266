import { type Budget, type BudgetInput, evaluateBudget } from '../budget';
import { COLD_BATTERY_C, ESTIMATE_PRIORS } from './estimatePriors';

/** What is known of a battery: as measured on the car, else its capacity when new. */
export type BatteryKnown =
  | { readonly basis: 'measured'; readonly capacityWh: number; readonly uWh: number }
  | { readonly basis: 'new'; readonly capacityWh: number };

/** Usable capacity when warm, with its standard uncertainty: as measured, or 0.95 ± 0.03 of that when new. */
export function warmCapacity(battery: BatteryKnown): { readonly capacityWh: number; readonly uWh: number } {
  if (!(battery.capacityWh > 0)) throw new RangeError('a capacity is above zero');
  if (battery.basis === 'measured') return { capacityWh: battery.capacityWh, uWh: battery.uWh };
  const { value, u } = ESTIMATE_PRIORS.usableShare;
  return { capacityWh: value * battery.capacityWh, uWh: u * battery.capacityWh };
}

/** Kelvins of a battery below those at which it gives its full energy. */
export function coldK(batteryTemperatureC: number): number {
  return Math.max(0, COLD_BATTERY_C - batteryTemperatureC);
}

export interface ChargeUsed {
  readonly battery: BatteryKnown;
  /** States of charge, 0..1, at departure and at arrival. */
  readonly fromCharge: number;
  readonly toCharge: number;
  /** At departure. */
  readonly batteryTemperatureC: number;
}

/**
 * Energy in Wh between two states of charge, E = C·(q₁ − q₂)·(1 − k·ΔT), with its budget (JCGM 100:2008, 5.1): C of
 * {@link warmCapacity}, ΔT the kelvins below 10 °C of the battery at departure, k = 0.3 ± 0.2 % per kelvin (common
 * practice, no source).
 */
export function usableEnergy({ battery, fromCharge, toCharge, batteryTemperatureC }: ChargeUsed): Budget {
  if (!(fromCharge <= 1 && toCharge >= 0 && fromCharge > toCharge)) {
    throw new RangeError('the charge at departure lies above that at arrival, both between 0 and 1');
  }
  const { capacityWh, uWh } = warmCapacity(battery);
  const { value, u } = ESTIMATE_PRIORS.coldPerK;
  const inputs: BudgetInput[] = [
    { name: 'capacityWh', value: capacityWh, u: uWh },
    { name: 'coldPerK', value, u: coldK(batteryTemperatureC) === 0 ? 0 : u },
  ];
  return evaluateBudget(
    inputs,
    (x) => (x[0] as number) * (fromCharge - toCharge) * (1 - (x[1] as number) * coldK(batteryTemperatureC)),
  );
}

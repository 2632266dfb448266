import type { BodyClass } from '@/lib/run/bodyClass';
import { airDensityCipm } from './air';
import { STANDARD_GRAVITY, standardAtmosphere } from './atmosphere';
import { DRAG_AREA_PRIORS, ROLLING_PRIORS, VEHICLE_PRIORS } from './priors';
import { JOULE_PER_METRE_PER_WH_PER_KM, rollingTemperatureFactor, STANDARD_REFERENCE } from './roadLoad';

/** A car at the middle of the priors, for saying what conditions would do. */
export interface ReferenceCar {
  dragAreaM2: number;
  rollingCoefficient: number;
  massKg: number;
  efficiency: number;
}

export function referenceCar(bodyClass: BodyClass): ReferenceCar {
  return {
    dragAreaM2: DRAG_AREA_PRIORS[bodyClass].value,
    rollingCoefficient: ROLLING_PRIORS.road.value,
    massKg: VEHICLE_PRIORS.mass.value,
    efficiency: VEHICLE_PRIORS.efficiency.value,
  };
}

export interface RoadConditions {
  airDensityKgM3: number;
  airTemperatureC: number;
  /** At car height along the road, against the car; negative from behind. */
  headwindMps: number;
}

const AT_REFERENCE: RoadConditions = { ...STANDARD_REFERENCE, headwindMps: 0 };

/**
 * Consumption at the battery in Wh/km at a steady speed on the flat by the road load of this method (roadLoad.ts), no
 * stops: [½ρ·CdA·(v + h)² + Crr·m·g/(1 + K0(T − 20))]/η + P/v. A headwind so strong from behind that it overtakes the
 * car is outside its domain. Auxiliary power stays that of reference conditions: what heating and cooling draw is none
 * of the air's doing.
 */
export function steadyWhPerKm(car: ReferenceCar, speedMps: number, conditions = AT_REFERENCE): number {
  const relative = speedMps + conditions.headwindMps;
  if (!(relative > 0 && speedMps > 0)) throw new RangeError('the air must meet the car from ahead');
  const drag = 0.5 * conditions.airDensityKgM3 * car.dragAreaM2 * relative * relative;
  const rolling =
    car.rollingCoefficient *
    car.massKg *
    STANDARD_GRAVITY *
    rollingTemperatureFactor(conditions.airTemperatureC, VEHICLE_PRIORS.rollingPerK.value);
  const joulePerMetre = (drag + rolling) / car.efficiency + STANDARD_REFERENCE.auxiliaryPowerW / speedMps;
  return joulePerMetre / JOULE_PER_METRE_PER_WH_PER_KM;
}

export const COMPUTED_CONDITIONS = [
  'colder',
  'warmer',
  'headwind',
  'tailwind',
  'bothWays',
  'higher',
] as const;
export type ComputedCondition = (typeof COMPUTED_CONDITIONS)[number];

/** What is asked: kelvin from 20 °C, metres a second along the road, metres of altitude from the sea. */
export const ASKED = { temperatureK: 10, windMps: 5, altitudeM: 1000 } as const;

/** 100 kPa of dry air, as in the reference density (UN GTR No. 15). */
const REFERENCE_PRESSURE_PA = 100_000;

/** By how much each condition changes the consumption of a car at reference conditions, ln ratio. Computed, not observed. */
export function conditionEffects(
  car: ReferenceCar,
  speedMps: number,
): { condition: ComputedCondition; log: number }[] {
  const reference = steadyWhPerKm(car, speedMps);
  const at = (changes: Partial<RoadConditions>) =>
    steadyWhPerKm(car, speedMps, { ...AT_REFERENCE, ...changes });
  const airAt = (temperatureC: number) => ({
    airTemperatureC: temperatureC,
    airDensityKgM3:
      (STANDARD_REFERENCE.airDensityKgM3 * airDensityCipm(temperatureC, REFERENCE_PRESSURE_PA, 0)) /
      airDensityCipm(STANDARD_REFERENCE.airTemperatureC, REFERENCE_PRESSURE_PA, 0),
  });
  const { airTemperatureC, airDensityKgM3 } = STANDARD_REFERENCE;
  const [ahead, behind] = [at({ headwindMps: ASKED.windMps }), at({ headwindMps: -ASKED.windMps })];
  const thinner = standardAtmosphere(ASKED.altitudeM).pressurePa / standardAtmosphere(0).pressurePa;
  const consumption: Record<ComputedCondition, number> = {
    colder: at(airAt(airTemperatureC - ASKED.temperatureK)),
    warmer: at(airAt(airTemperatureC + ASKED.temperatureK)),
    headwind: ahead,
    tailwind: behind,
    bothWays: (ahead + behind) / 2,
    higher: at({ airDensityKgM3: airDensityKgM3 * thinner }),
  };
  return COMPUTED_CONDITIONS.map((condition) => ({
    condition,
    log: Math.log(consumption[condition] / reference),
  }));
}

import { MODELS } from './models';
import { RandomStream } from './randomStream';
import type { DemoCar } from './types';

/** Standard deviation of ln consumption between cars of one model. */
export const CAR_SPREAD = 0.015;

interface CarPlan {
  key: string;
  ownerKey: string;
  modelKey: string;
  name: string;
  chargerKind: 'dc' | 'ac';
}

const plan = (
  key: string,
  ownerKey: string,
  modelKey: string,
  name: string,
  chargerKind: 'dc' | 'ac' = 'dc',
): CarPlan => ({ key, ownerKey, modelKey, name, chargerKind });

const PLANS: readonly CarPlan[] = [
  plan('turnstone-1', 'bram', 'turnstone', 'Slate grey pick-up'),
  plan('turnstone-2', 'davin', 'turnstone', 'Farm truck'),
  plan('turnstone-3', 'goran', 'turnstone', 'White Turnstone'),
  plan('turnstone-4', 'kofi', 'turnstone', 'Sand-coloured Turnstone'),
  plan('dotterel-1', 'celia', 'dotterel', 'Bakery van'),
  plan('dotterel-2', 'elin', 'dotterel', 'Workshop van'),
  plan('dotterel-3', 'ivo', 'dotterel', 'Camper conversion'),
  plan('dotterel-4', 'lena', 'dotterel', 'Blue Dotterel'),
  plan('godwit-1', 'anouk', 'godwit', 'Silver Godwit'),
  plan('godwit-2', 'farah', 'godwit', 'Black Godwit'),
  plan('godwit-3', 'juna', 'godwit', 'Company saloon'),
  plan('godwit-4', 'bram', 'godwit', 'Green Godwit'),
  plan('pipit-1', 'hana', 'pipit', 'Yellow Pipit', 'ac'),
  plan('pipit-2', 'celia', 'pipit', 'Small red one', 'ac'),
  plan('pipit-3', 'farah', 'pipit', 'White Pipit'),
  plan('pipit-4', 'juna', 'pipit', 'Town car', 'ac'),
  plan('whimbrel-1', 'hana', 'whimbrel', 'School bus'),
  plan('whimbrel-2', 'ivo', 'whimbrel', 'Club bus'),
];

export function makeCars(seed: number): DemoCar[] {
  return PLANS.map((car) => {
    const stream = new RandomStream(seed, `car ${car.key}`);
    const model = MODELS.find((candidate) => candidate.key === car.modelKey);
    if (model === undefined) throw new Error(`car ${car.key} is of no model`);
    const odometerFactor = stream.normalWithin(0.994, 0.004, 0.009);
    const speedometerFactor = stream.normalWithin(0.974, 0.006, 0.012);
    const efficiency =
      car.chargerKind === 'dc'
        ? stream.normalWithin(0.925, 0.008, 0.016)
        : stream.normalWithin(0.89, 0.008, 0.016);
    return {
      ...car,
      // what the owner measured between full and empty: the model's figure less some ageing, to 0.1 kWh
      usableCapacityWh: Math.round((model.usableCapacityWh * stream.uniform(0.955, 1)) / 100) * 100,
      odometerFactor,
      speedometerFactor,
      calibratedOdometerFactor: round(stream.normal(odometerFactor, 0.001), 4),
      calibratedSpeedometerFactor: round(stream.normal(speedometerFactor, 0.002), 3),
      calibratedOn: `2025-08-${String(stream.integer(10, 28)).padStart(2, '0')}`,
      logEffect: stream.normalWithin(0, CAR_SPREAD, 2.5 * CAR_SPREAD),
      chargingEfficiency: efficiency,
    };
  });
}

function round(value: number, decimals: number): number {
  return Number(value.toFixed(decimals));
}

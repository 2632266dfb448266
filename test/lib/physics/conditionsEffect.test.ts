import { describe, expect, it } from 'vitest';
import { airDensityIdeal } from '@/lib/physics/air';
import { flattenFalls } from '@/lib/physics/braking';
import { conditionEffects, referenceCar, steadyWhPerKm } from '@/lib/physics/conditionsEffect';
import { INPUT_COUNT, type InputName, indexOfInput } from '@/lib/physics/inputs';
import { adjustmentModel, OUT, OUTPUT_COUNT, STANDARD_REFERENCE } from '@/lib/physics/roadLoad';

const CAR = { dragAreaM2: 0.6, rollingCoefficient: 0.01, massKg: 2000, efficiency: 0.9 };

describe('what conditions do by the physics of the method', () => {
  it('begins from a consumption worked out by hand', () => {
    // at 30 m/s: drag 0.5 · 1.189 · 0.6 · 900 = 321.03 N; rolling 0.01 · 2000 · 9.80665 = 196.133 N;
    // (321.03 + 196.133)/0.9 + 500/30 = 591.292 J/m, over 3.6
    expect(steadyWhPerKm(CAR, 30)).toBeCloseTo(164.248, 2);
  });

  it('is what the adjustment takes out of a run again', () => {
    const speed = 110 / 3.6;
    const conditions = { airDensityKgM3: 1.3, airTemperatureC: 8, headwindMps: 4 };
    const measured = steadyWhPerKm(CAR, speed, conditions);
    const x = new Float64Array(INPUT_COUNT);
    const put = (name: InputName, value: number) => {
      x[indexOfInput(name)] = value;
    };
    put('energyWh', measured * 50);
    put('distanceM', 50_000);
    put('durationS', 50_000 / speed);
    put('cruiseSpeedMps', speed);
    put('airTemperatureC', conditions.airTemperatureC);
    put('airDensityKgM3', conditions.airDensityKgM3);
    put('alongWindMps', conditions.headwindMps);
    put('meanHeadwindMps', conditions.headwindMps);
    put('auxiliaryPowerW', STANDARD_REFERENCE.auxiliaryPowerW);
    put('massKg', CAR.massKg);
    put('dragAreaM2', CAR.dragAreaM2);
    put('rollingCoefficient', CAR.rollingCoefficient);
    put('drivetrainEfficiency', CAR.efficiency);
    put('rollingTemperaturePerK', 0.0086);
    put('dragOfSetup', 1);
    put('rollingOfSetup', 1);
    const out = new Float64Array(OUTPUT_COUNT);
    const reference = { ...STANDARD_REFERENCE, cruiseSpeedMps: speed };
    adjustmentModel('steady', 'density', reference, flattenFalls(0))(x, out);
    expect(out[OUT.scale]).toBeCloseTo(1, 9);
    expect(out[OUT.normalised]).toBeCloseTo(steadyWhPerKm(CAR, speed), 9);
  });

  it('has the sign and size that a driver knows', () => {
    const speed = 110 / 3.6;
    const car = referenceCar('saloon');
    const found = new Map(conditionEffects(car, speed).map(({ condition, log }) => [condition, log]));
    const log = (condition: Parameters<typeof found.get>[0]) => found.get(condition) ?? Number.NaN;
    // cold air by the other formula for its density: 293.15/283.15 of it
    const colder = steadyWhPerKm(car, speed, {
      airTemperatureC: 10,
      airDensityKgM3: (1.189 * airDensityIdeal(10, 1e5, 0)) / airDensityIdeal(20, 1e5, 0),
      headwindMps: 0,
    });
    expect(log('colder')).toBeCloseTo(Math.log(colder / steadyWhPerKm(car, speed)), 3);
    expect(log('colder')).toBeGreaterThan(0.03);
    expect(log('warmer')).toBeLessThan(-0.03);
    expect(log('headwind')).toBeGreaterThan(0.15);
    expect(log('tailwind')).toBeLessThan(-0.12);
    // there and back leaves the square of the wind: a loss, and a small one
    expect(log('bothWays')).toBeGreaterThan(0);
    expect(log('bothWays')).toBeLessThan(log('headwind') / 5);
    expect(log('higher')).toBeLessThan(0);
  });

  it('refuses air that overtakes the car', () => {
    expect(() =>
      steadyWhPerKm(CAR, 4, { airDensityKgM3: 1.2, airTemperatureC: 20, headwindMps: -5 }),
    ).toThrow(RangeError);
  });
});

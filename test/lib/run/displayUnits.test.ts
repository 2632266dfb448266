import { describe, expect, it } from 'vitest';
import { rememberedUnits } from '@/lib/run/displayUnits';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';

const MILES: Display = {
  ...DEFAULT_PREFERENCES,
  consumption: 'mi/kWh',
  distance: 'mi',
  wind: 'kn',
  temperature: 'degF',
  tyrePressure: 'psi',
  airPressure: 'inHg',
};

describe('units that are offered first', () => {
  it('are those of the last form in which the quantity was filled in', () => {
    const { last, byCar } = rememberedUnits(
      [
        { carId: 'b', tripDistance: '', tripDistanceUnit: 'km', windSpeed: '4', windSpeedUnit: 'kn' },
        { carId: 'a', tripDistance: '30', tripDistanceUnit: 'mi', windSpeed: '4', windSpeedUnit: 'm/s' },
      ],
      DEFAULT_PREFERENCES,
    );
    expect(last.tripDistance).toBe('mi');
    expect(last.windSpeed).toBe('kn');
    expect(byCar).toEqual(
      new Map([
        ['a', { tripDistance: 'mi', windSpeed: 'm/s' }],
        ['b', { windSpeed: 'kn' }],
      ]),
    );
  });

  it('do no harm to other objects, whatever the id of the car', () => {
    for (const carId of ['__proto__', 'constructor', 'toString'])
      rememberedUnits([{ carId, tripDistance: '30', tripDistanceUnit: 'mi' }], DEFAULT_PREFERENCES);
    expect(Object.keys(Object.prototype)).toEqual([]);
    expect(({} as Record<string, unknown>).tripDistance).toBeUndefined();
    expect((Object as unknown as Record<string, unknown>).tripDistance).toBeUndefined();
  });

  it('are those that the tester reads in where nothing was typed yet', () => {
    const inMiles = rememberedUnits([], MILES).last;
    expect(inMiles).toMatchObject({
      tripDistance: 'mi',
      tripEfficiency: 'mi/kWh',
      trueSpeed: 'mph',
      windSpeed: 'kn',
      airPressure: 'inHg',
      airTemperature: 'degF',
      pressureFront: 'psi',
      tripEnergy: 'kWh',
    });
    expect(rememberedUnits([], DEFAULT_PREFERENCES).last.tripDistance).toBe('km');
  });

  it('never are units that the field does not have', () => {
    expect(
      rememberedUnits([{ tripDistance: '3', tripDistanceUnit: 'parsec' }], DEFAULT_PREFERENCES).last
        .tripDistance,
    ).toBe('km');
  });
});

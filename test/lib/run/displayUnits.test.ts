import { describe, expect, it } from 'vitest';
import { rememberedUnits } from '@/lib/run/displayUnits';

describe('units that are offered first', () => {
  it('are those of the last form in which the quantity was filled in', () => {
    const { last, byCar } = rememberedUnits(
      [
        { carId: 'b', tripDistance: '', tripDistanceUnit: 'km', windSpeed: '4', windSpeedUnit: 'kn' },
        { carId: 'a', tripDistance: '30', tripDistanceUnit: 'mi', windSpeed: '4', windSpeedUnit: 'm/s' },
      ],
      'metric',
    );
    expect(last.tripDistance).toBe('mi');
    expect(last.windSpeed).toBe('kn');
    expect(byCar).toEqual({ a: { tripDistance: 'mi', windSpeed: 'm/s' }, b: { windSpeed: 'kn' } });
  });

  it('follow the account’s system where nothing was typed yet', () => {
    const imperial = rememberedUnits([], 'imperial').last;
    expect(imperial).toMatchObject({
      tripDistance: 'mi',
      tripEfficiency: 'mi/kWh',
      airTemperature: 'degF',
      pressureFront: 'psi',
      tripEnergy: 'kWh',
    });
    expect(rememberedUnits([], 'metric').last.tripDistance).toBe('km');
  });

  it('never are units that the field does not have', () => {
    expect(
      rememberedUnits([{ tripDistance: '3', tripDistanceUnit: 'parsec' }], 'metric').last.tripDistance,
    ).toBe('km');
  });
});

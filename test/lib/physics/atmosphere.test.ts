import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ALTITUDE_ONLY_U_PA,
  standardAtmosphere,
  stationPressure,
  stationPressureFromQff,
  stationPressureFromQnh,
} from '@/lib/physics/atmosphere';

describe('ISO 2533 standard atmosphere', () => {
  // geopotential altitude m, Pa, kg/m³
  it.each([
    [0, 101_325, 1.225],
    [500, 95_460.8, 1.16727],
    [1000, 89_874.6, 1.11164],
    [2000, 79_495.2, 1.00649],
    [3000, 70_108.5, 0.90912],
  ])('at %d m', (altitude, pressure, density) => {
    const air = standardAtmosphere(altitude);
    // half the last digit printed
    expect(Math.abs(air.pressurePa - pressure)).toBeLessThan(0.051);
    expect(Math.abs(air.densityKgM3 - density)).toBeLessThan(5.1e-6);
    expect(air.temperatureC).toBeCloseTo(15 - 0.0065 * altitude, 10);
  });
});

describe('altimeter setting', () => {
  it('of 101 325 Pa at 1000 m is 89 874.56 Pa, of 103 000 Pa at 1600 m 84 956.31 Pa (WMO Guide No. 8 form)', () => {
    expect(stationPressureFromQnh(101_325, 1000)).toBeCloseTo(89_874.56, 1);
    expect(stationPressureFromQnh(103_000, 1600)).toBeCloseTo(84_956.31, 1);
  });

  it('of the standard atmosphere reproduces it', () => {
    fc.assert(
      fc.property(fc.double({ min: -200, max: 4000, noNaN: true }), (altitude) => {
        const expected = standardAtmosphere(altitude).pressurePa;
        expect(Math.abs(stationPressureFromQnh(101_325, altitude) / expected - 1)).toBeLessThan(1e-7);
      }),
    );
  });

  it('differs from the sea-level pressure by 1 % at 1600 m and −10 °C', () => {
    const difference = stationPressureFromQff(101_325, 1600, -10) / stationPressureFromQnh(101_325, 1600) - 1;
    expect(difference).toBeCloseTo(-0.01, 3);
  });

  it('and sea-level pressure are the station pressure at sea level', () => {
    expect(stationPressureFromQnh(100_800, 0)).toBeCloseTo(100_800, 6);
    expect(stationPressureFromQff(100_800, 0, 12)).toBe(100_800);
  });
});

describe('a reported pressure', () => {
  it('is known better the nearer it was measured', () => {
    const altitudeM = 900;
    const station = stationPressure({ kind: 'station', pressurePa: 91_000 });
    const qnh = stationPressure({ kind: 'qnh', pressurePa: 101_500, altitudeM });
    const qff = stationPressure({ kind: 'qff', pressurePa: 101_500, altitudeM, temperatureC: 5 });
    const altitude = stationPressure({ kind: 'altitude', altitudeM });
    expect(station).toEqual({ pressurePa: 91_000, uPa: 50 / Math.sqrt(3) });
    expect(qnh.uPa).toBeGreaterThan(station.uPa);
    expect(qff.uPa).toBeGreaterThan(qnh.uPa);
    expect(altitude.uPa).toBe(ALTITUDE_ONLY_U_PA);
    expect(altitude.uPa).toBeGreaterThan(qff.uPa);
    expect(altitude.pressurePa).toBeCloseTo(standardAtmosphere(900).pressurePa, 9);
  });
});

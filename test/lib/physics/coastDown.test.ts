import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type CoastDownConditions,
  coastDownAsRoadLoad,
  coastDownForceN,
  correctCoastDown,
} from '@/lib/physics/coastDown';

const reference: CoastDownConditions = {
  temperatureC: 20,
  pressurePa: 100_000,
  alongWindMps: 0,
  testedMassKg: 1800,
  targetMassKg: 1800,
};
const measured = { f0N: 150, f1NPerKmh: 0.6, f2NPerKmh2: 0.03 };

describe('UN GTR No. 15, Annex 4, 4.5: F* = ((f0 − w1 − K1) + f1·V)(1 + K0(T − 20)) + K2·f2·V² (from memory)', () => {
  it('changes nothing at reference conditions but T/293 against 293.15 K', () => {
    const corrected = correctCoastDown(measured, reference);
    expect(corrected.f0N).toBe(150);
    expect(corrected.f1NPerKmh).toBe(0.6);
    expect(corrected.f2NPerKmh2 / 0.03).toBeCloseTo(293.15 / 293, 12);
  });

  it('by hand at 5 °C, 95 kPa, 2 m/s of wind and 50 kg too heavy', () => {
    const corrected = correctCoastDown(measured, {
      temperatureC: 5,
      pressurePa: 95_000,
      alongWindMps: 2,
      testedMassKg: 1850,
      targetMassKg: 1800,
    });
    const rolling = 1 - 8.6e-3 * 15; // 0.871
    expect(corrected.f0N).toBeCloseTo((150 - 12.96 * 0.03 * 4 - 150 * (50 / 1850)) * rolling, 9);
    expect(corrected.f1NPerKmh).toBeCloseTo(0.6 * rolling, 12);
    expect(corrected.f2NPerKmh2).toBeCloseTo(((278.15 / 293) * 0.03) / 0.95, 12);
  });

  it('lowers the force of a cold day and raises that of thin air', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -10, max: 19, noNaN: true }),
        fc.double({ min: 20, max: 40, noNaN: true }),
        (t, v) => {
          const force = coastDownForceN(measured, v);
          expect(
            coastDownForceN(correctCoastDown(measured, { ...reference, temperatureC: t }), v),
          ).toBeLessThan(force);
          expect(
            coastDownForceN(correctCoastDown(measured, { ...reference, pressurePa: 85_000 }), v),
          ).toBeGreaterThan(force);
        },
      ),
    );
  });
});

describe('coefficients as road-load parameters', () => {
  it('give the same force at any speed in reference air', () => {
    const { dragAreaM2, rollingCoefficient, linearNPerMps } = coastDownAsRoadLoad(measured, 1800);
    for (const speed of [10, 25, 36]) {
      const force =
        0.5 * 1.189 * dragAreaM2 * speed ** 2 + rollingCoefficient * 1800 * 9.80665 + linearNPerMps * speed;
      expect(force).toBeCloseTo(coastDownForceN(measured, speed), 9);
    }
  });
});

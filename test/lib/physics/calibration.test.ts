import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyCalibration,
  type Calibration,
  isAllowedSpeedometer,
  ratioFromPairs,
  speedometerBand,
} from '@/lib/physics/calibration';

const calibration: Calibration = {
  instrument: 'speedometer',
  method: 'gps',
  ratio: 70 / 71,
  uRatio: 0.002,
  date: '2024-03-01',
  odometerM: 20_000_000,
  tyreSetId: 'summer',
};
const sameDay = { date: '2024-03-01', odometerM: 20_000_000, tyreSetId: 'summer' };

describe('UN Regulation No. 39, 5.4 (from memory): 0 ≤ V1 − V2 ≤ V2/10 + 4 km/h', () => {
  it.each([
    [40, 48],
    [80, 92],
    [120, 136],
  ])('at a true %d km/h up to %d km/h may be shown', (truth, most) => {
    const band = speedometerBand(truth / 3.6);
    expect(band.lowMps * 3.6).toBeCloseTo(truth, 10);
    expect(band.highMps * 3.6).toBeCloseTo(most, 10);
    expect(isAllowedSpeedometer((most - 0.01) / 3.6, truth / 3.6)).toBe(true);
    expect(isAllowedSpeedometer((most + 0.01) / 3.6, truth / 3.6)).toBe(false);
    expect(isAllowedSpeedometer((truth - 0.3) / 3.6, truth / 3.6)).toBe(false);
    expect(isAllowedSpeedometer((truth - 0.3) / 3.6, truth / 3.6, 0.5 / 3.6)).toBe(true);
  });

  it('71 shown at a true 70 mph is a normal speedometer error (common practice, no source)', () => {
    expect(isAllowedSpeedometer(71 * 0.44704, 70 * 0.44704)).toBe(true);
  });
});

describe('a ratio from pairs', () => {
  it('is the weighted least squares slope through the origin', () => {
    const { ratio, uRatio } = ratioFromPairs([
      { indicated: 100, trueValue: 97, uTrue: 1 },
      { indicated: 200, trueValue: 196, uTrue: 1 },
    ]);
    // (100·97 + 200·196)/(100² + 200²), 1/√(50 000)
    expect(ratio).toBeCloseTo(48_900 / 50_000, 12);
    expect(uRatio).toBeCloseTo(1 / Math.sqrt(50_000), 12);
  });

  it('follows NIST StRD NoInt1 (certified slope 2.07438016528926, standard deviation 0.0165289256198347)', () => {
    const pairs = Array.from({ length: 11 }, (_, i) => ({ indicated: 60 + i, trueValue: 130 + i, uTrue: 1 }));
    const { ratio, uRatio } = ratioFromPairs(pairs);
    expect(ratio).toBeCloseTo(2.07438016528926, 12);
    expect(uRatio).toBeCloseTo(0.0165289256198347, 12);
  });

  it('needs a pair', () => {
    expect(() => ratioFromPairs([])).toThrow(RangeError);
  });
});

describe('a calibration', () => {
  it('gives the true value on the day', () => {
    const reading = applyCalibration(71, 0, calibration, sameDay);
    expect(reading.ok && reading.value).toBeCloseTo(70, 10);
    expect(reading.ok && reading.u).toBeCloseTo(71 * 0.002, 10);
  });

  it.each([
    ['otherTyres', { ...sameDay, tyreSetId: 'winter' }],
    ['tooOld', { ...sameDay, date: '2025-03-02' }],
    ['tooWorn', { ...sameDay, odometerM: 35_001_000 }],
    ['beforeCalibration', { ...sameDay, date: '2024-02-28' }],
    ['beforeCalibration', { ...sameDay, odometerM: 19_000_000 }],
  ])('does not hold: %s', (reason, use) => {
    expect(applyCalibration(71, 0, calibration, use)).toMatchObject({ ok: false, reason });
  });

  it('still holds at the edge of its life', () => {
    expect(applyCalibration(71, 0, calibration, { ...sameDay, date: '2025-03-01' }).ok).toBe(true);
    expect(applyCalibration(71, 0, calibration, { ...sameDay, odometerM: 35_000_000 }).ok).toBe(true);
    expect(() => applyCalibration(71, 0, calibration, { ...sameDay, date: 'soon' })).toThrow(RangeError);
  });

  it('drifts with wear: the distance per turn falls and is less certain', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 14_000_000 }), (driven) => {
        const at = (distanceM: number) =>
          applyCalibration(100, 0.1, calibration, {
            ...sameDay,
            odometerM: calibration.odometerM + distanceM,
          });
        const less = at(driven);
        const more = at(driven + 1_000_000);
        if (!less.ok || !more.ok) throw new Error('both are within its life');
        expect(more.value).toBeLessThan(less.value);
        expect(more.u).toBeGreaterThan(less.u);
        // never more than 1.8 % in 40 000 km
        expect(less.value).toBeGreaterThan(100 * calibration.ratio * (1 - 0.018));
      }),
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runDistance } from '@/lib/reduction/runDistance';
import { calibrationOf, recordOf } from './exampleSnapshot';

const record = recordOf({ tripDistance: '107.4', tripDistanceUnit: 'km' });
const coarse = { lengthM: 106_000, lengthUncertaintyM: 1500 };
const odometer = calibrationOf({
  instrument: 'odometer',
  factor: 0.994,
  standardUncertainty: 0.001,
  measuredOn: '2026-05-14',
});

describe('the distance of a run', () => {
  it('is the loop’s own where that is known to 1 %', () => {
    expect(runDistance(record, { lengthM: 107_000, lengthUncertaintyM: 100 }, [odometer])).toEqual({
      distanceM: 107_000,
      uM: 100,
      source: 'loop',
      display: null,
    });
    expect(runDistance(record, { lengthM: 107_000, lengthUncertaintyM: 1070 }, []).source).toBe('loop');
    expect(runDistance(record, { lengthM: 107_000, lengthUncertaintyM: 0 }, []).uM).toBe(1);
  });

  it('is joined with the calibrated odometer otherwise, weights 1/u²', () => {
    const result = runDistance(record, coarse, [odometer]);
    // 107.4 km × 0.994 = 106.7556 km; u² = (0.05/√3 · 0.994)² + (107.4 · 0.001)² km²
    const u = Math.hypot((0.05 / Math.sqrt(3)) * 0.994, 107.4 * 0.001) * 1000;
    expect(result.display?.distanceM).toBeCloseTo(106_755.6, 6);
    expect(result.display?.uM).toBeCloseTo(u, 6);
    const weight = 1500 ** 2 / (1500 ** 2 + u ** 2);
    expect(result.distanceM).toBeCloseTo(106_000 + weight * 755.6, 6);
    expect(result.uM).toBeCloseTo((1500 * u) / Math.hypot(1500, u), 6);
    expect(result).toMatchObject({ source: 'loopAndDisplay', display: { isCalibrated: true } });
  });

  it('takes an odometer that nobody calibrated, or whose tyres were changed, as 1 ± 2 %', () => {
    const ended = { ...odometer, invalidatedOn: '2026-05-14' };
    for (const calibrations of [[], [ended], [calibrationOf()]]) {
      const { display } = runDistance(record, coarse, calibrations);
      expect(display?.distanceM).toBe(107_400);
      expect(display?.uM).toBeCloseTo(Math.hypot(50 / Math.sqrt(3), 0.02 * 107_400), 6);
      expect(display?.isCalibrated).toBe(false);
    }
  });

  it('lies between the two, is no surer than their disagreement, and never less sure than agreeing ones allow', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 90_000, max: 120_000, noNaN: true }),
        fc.double({ min: 0.011, max: 0.05, noNaN: true }),
        (lengthM, share) => {
          const result = runDistance(record, { lengthM, lengthUncertaintyM: share * lengthM }, [odometer]);
          const shown = result.display?.distanceM ?? Number.NaN;
          const uShown = result.display?.uM ?? Number.NaN;
          const uLoop = share * lengthM;
          expect(result.distanceM).toBeGreaterThanOrEqual(Math.min(lengthM, shown) - 1e-6);
          expect(result.distanceM).toBeLessThanOrEqual(Math.max(lengthM, shown) + 1e-6);
          const internal = (uLoop * uShown) / Math.hypot(uLoop, uShown);
          expect(result.uM).toBeGreaterThanOrEqual(internal * (1 - 1e-12));
          if (Math.abs(lengthM - shown) < Math.hypot(uLoop, uShown))
            expect(result.uM).toBeCloseTo(internal, 6);
        },
      ),
    );
  });
});

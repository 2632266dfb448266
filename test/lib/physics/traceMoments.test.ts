import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { traceMoments } from '@/lib/physics/traceMoments';

describe('moments of a speed trace', () => {
  it('of a steady one are v and v²', () => {
    const moments = traceMoments([0, 1, 2, 5], [30, 30, 30, 30]);
    expect(moments).toEqual({
      distanceM: 150,
      durationS: 5,
      meanSpeedMps: 30,
      meanSquareSpeedM2S2: 900,
      slowDowns: [],
    });
  });

  it('of a uniform acceleration from rest are V/2 and V²/2 (∫v³dt/∫v dt with v = at, exact)', () => {
    const times = Array.from({ length: 11 }, (_, i) => i);
    const moments = traceMoments(
      times,
      times.map((t) => 3 * t),
    );
    expect(moments.meanSpeedMps).toBeCloseTo(15, 12);
    expect(moments.meanSquareSpeedM2S2).toBeCloseTo(30 ** 2 / 2, 10);
  });

  it('do not depend on how a linear stretch is sampled', () => {
    const coarse = traceMoments([0, 100], [10, 40]);
    const fine = traceMoments(
      Array.from({ length: 1001 }, (_, i) => i / 10),
      Array.from({ length: 1001 }, (_, i) => 10 + 0.03 * i),
    );
    expect(fine.distanceM).toBeCloseTo(coarse.distanceM, 6);
    expect(fine.meanSquareSpeedM2S2).toBeCloseTo(coarse.meanSquareSpeedM2S2, 6);
  });

  it('never weigh less than the squared mean speed', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.1, max: 40, noNaN: true }), { minLength: 2, maxLength: 60 }),
        (speeds) => {
          const moments = traceMoments(
            speeds.map((_, i) => i),
            speeds,
          );
          expect(moments.meanSquareSpeedM2S2).toBeGreaterThanOrEqual(moments.meanSpeedMps ** 2 * (1 - 1e-12));
          for (const { fromMps, toMps } of moments.slowDowns)
            expect(fromMps - toMps).toBeGreaterThanOrEqual(3);
        },
      ),
    );
  });

  it('find each slow-down from its peak to its trough and not the ripple between', () => {
    const speeds = [30, 29, 30.5, 30, 20, 12, 13, 11, 25, 30, 31, 0, 0, 15, 30];
    const { slowDowns } = traceMoments(
      speeds.map((_, i) => i),
      speeds,
    );
    expect(slowDowns).toEqual([
      { fromMps: 30.5, toMps: 11 },
      { fromMps: 31, toMps: 0 },
    ]);
  });

  it('end in a slow-down that is not over', () => {
    const { slowDowns } = traceMoments([0, 1, 2], [30, 30, 5]);
    expect(slowDowns).toEqual([{ fromMps: 30, toMps: 5 }]);
  });

  it('refuse times that do not rise and traces without distance', () => {
    expect(() => traceMoments([0], [1])).toThrow(RangeError);
    expect(() => traceMoments([0, 0], [1, 1])).toThrow(RangeError);
    expect(() => traceMoments([0, 1], [0, 0])).toThrow(RangeError);
  });
});

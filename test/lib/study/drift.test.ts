import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DriftRun, driftOf } from '@/lib/study/drift';
import { dayOfRuns } from './plans';

/** Runs an hour apart. */
const day = (number: number, order: string, zs: readonly number[]): DriftRun[] =>
  dayOfRuns(number, order, zs);

describe('the drift of days', () => {
  it('finds a slope that all runs share, whatever the setups and the days differ by', () => {
    const rising = (base: number, order: string) =>
      [...order].map((s, i) => base + (s === 'b' ? -0.03 : 0) + 0.004 * i);
    const runs = [...day(1, 'abba', rising(0, 'abba')), ...day(2, 'baab', rising(0.05, 'baab'))];
    const { perHour, interval, points } = driftOf(runs);
    expect(perHour).toBeCloseTo(0.004, 12);
    expect(interval?.[0]).toBeCloseTo(0.004, 9);
    expect(points.map(({ hours }) => hours)).toEqual([0, 1, 2, 3, 0, 1, 2, 3]);
  });

  it('agrees with a least-squares fit by hand', () => {
    // A at 0 and 3 h: 0, 0.6; B at 1 and 2 h: 0, 0.4. h′ = ∓1.5, ∓0.5; z′ = ∓0.3, ∓0.2:
    // Σ h′z′ = 0.9 + 0.2 = 1.1, Σ h′² = 5, slope 0.22; rest 0.26 − 0.242 = 0.018 on 4 − 2 − 1 = 1,
    // t(0.975, 1) = 12.706 (tables): 12.706 √(0.018/5) = 0.7624
    const { perHour, interval } = driftOf(day(1, 'abba', [0, 0, 0.4, 0.6]));
    expect(perHour).toBeCloseTo(0.22, 12);
    expect((interval?.[1] ?? 0) - 0.22).toBeCloseTo(0.7624, 3);
  });

  it('says nothing of setups that were driven once a day', () => {
    expect(driftOf(day(1, 'ab', [0, 0.1]))).toEqual({ points: [], perHour: null, interval: null });
    expect(driftOf(day(1, 'aba', [0, 0.1, 0.02]))).toMatchObject({
      perHour: expect.closeTo(0.01, 12),
      interval: null,
    });
  });

  it('turns with time, and does not move with what a setup or a day adds', () => {
    const z = fc.double({ min: -0.1, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(fc.array(z, { minLength: 4, maxLength: 4 }), z, (zs, shift) => {
        const found = driftOf(day(1, 'abba', zs));
        const backwards = driftOf(day(1, 'abba', zs.toReversed()));
        const moved = driftOf(
          day(
            1,
            'abba',
            zs.map((one, i) => (i === 1 || i === 2 ? one + shift : one)),
          ),
        );
        expect(backwards.perHour).toBeCloseTo(-(found.perHour ?? 0), 10);
        expect(moved.perHour).toBeCloseTo(found.perHour ?? 0, 10);
      }),
    );
  });
});

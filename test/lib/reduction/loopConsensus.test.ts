import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LoopRecording, loopConsensus } from '@/lib/reduction/loopConsensus';

const recording = (
  testerId: string,
  distanceM: number,
  changes: Partial<LoopRecording> = {},
): LoopRecording => ({
  runNumber: 1,
  testerId,
  distanceM,
  offCruiseShare: 0.04,
  gapShare: 0,
  ...changes,
});

describe('consensus length of a loop', () => {
  it('is nothing without recordings, and one recording with its own uncertainty', () => {
    expect(loopConsensus([])).toBeNull();
    // 0.3 % of 100 km
    expect(loopConsensus([recording('a', 100_000)])).toMatchObject({
      lengthM: 100_000,
      uLengthM: 300,
      testers: 1,
    });
  });

  it('does not count many recordings of one receiver as many', () => {
    const many = loopConsensus(Array.from({ length: 40 }, () => recording('a', 100_000)));
    expect(many?.uLengthM).toBeCloseTo(300, 6);
    const pulled = loopConsensus([
      ...Array.from({ length: 40 }, () => recording('a', 100_000)),
      recording('b', 100_400),
    ]);
    // two testers of nearly the same u: the middle, not a 40th of the way
    expect(pulled?.lengthM).toBeCloseTo(100_199.2, 0);
  });

  it('weighs by 1/u² and widens by the Birge ratio, by hand', () => {
    // u: 300 m, and 100 km × hypot(0.003, 0.1 × 0.04) = 500 m
    const result = loopConsensus([recording('a', 100_000), recording('b', 100_000, { gapShare: 0.04 })]);
    expect(result?.uLengthM).toBeCloseTo(1 / Math.sqrt(1 / 300 ** 2 + 1 / 500 ** 2), 6);
    // 2000 m apart with u of about 300 m each: chi-square 22.2 on one degree of freedom
    const apart = loopConsensus([recording('a', 100_000), recording('b', 102_000)]);
    expect(apart?.birgeRatio).toBeCloseTo(2000 / Math.hypot(300, 306), 6);
    expect(apart?.uLengthM).toBeCloseTo(((apart?.birgeRatio ?? 0) * 300 * 306) / Math.hypot(300, 306), 6);
  });

  it('lies among the recordings, whatever their order', () => {
    const some = fc.array(
      fc.tuple(fc.constantFrom('a', 'b', 'c'), fc.double({ min: 90_000, max: 110_000, noNaN: true })),
      { minLength: 1, maxLength: 12 },
    );
    fc.assert(
      fc.property(some, (pairs) => {
        const recordings = pairs.map(([tester, metres]) => recording(tester, metres));
        const result = loopConsensus(recordings);
        const turned = loopConsensus(recordings.toReversed());
        const lengths = pairs.map(([, metres]) => metres);
        expect(result?.lengthM).toBeGreaterThanOrEqual(Math.min(...lengths) - 1e-6);
        expect(result?.lengthM).toBeLessThanOrEqual(Math.max(...lengths) + 1e-6);
        expect(turned?.lengthM).toBeCloseTo(result?.lengthM ?? 0, 6);
      }),
    );
  });
});

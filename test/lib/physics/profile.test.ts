import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { judgeProfile, solveProfile } from '@/lib/physics/profile';

const kmh = (value: number) => value / 3.6;

describe('a profile without a trace', () => {
  it('agrees with distance and duration for any share and off-cruise speed it is made from', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 0.15, noNaN: true }),
        fc.double({ min: 0.2, max: 0.95, noNaN: true }),
        fc.double({ min: 22, max: 36, noNaN: true }),
        (share, ratio, cruise) => {
          const distanceM = 80_000;
          const durationS = ((1 - share) * distanceM) / cruise + (share * distanceM) / (ratio * cruise);
          const solved = solveProfile({
            distanceM,
            durationS,
            cruiseSpeedMps: cruise,
            offCruiseShare: share,
          });
          expect(solved.judgement).toEqual({ source: 'share', finding: null });
          expect(solved.offCruiseSpeedMps).toBeCloseTo(ratio * cruise, 8);
          // ∫v³dt/∫v dt of two steady stretches
          expect(solved.meanSquareSpeedM2S2).toBeCloseTo(cruise ** 2 * (1 - share + share * ratio ** 2), 7);
        },
      ),
    );
  });

  it('without a share takes an off-cruise speed and solves the share', () => {
    const cruise = kmh(110);
    const share = 0.06;
    const durationS = (100_000 / cruise) * (1 - share + share / 0.6);
    const solved = solveProfile({ distanceM: 100_000, durationS, cruiseSpeedMps: cruise });
    expect(solved.judgement.source).toBe('ratio');
    expect(solved.offCruiseShare).toBeCloseTo(share, 10);
    expect(solved.offCruiseSpeedMps).toBeCloseTo(0.6 * cruise, 10);
  });

  it('is steady when the duration is that of cruising all the way', () => {
    const solved = solveProfile({ distanceM: 100_000, durationS: 3600, cruiseSpeedMps: kmh(100) });
    expect(solved.meanSquareSpeedM2S2).toBeCloseTo(kmh(100) ** 2, 9);
    expect(solved.judgement.finding).toBeNull();
  });

  it('finds a duration too short for the cruise speed', () => {
    const judged = judgeProfile({
      distanceM: 100_000,
      durationS: 3000,
      cruiseSpeedMps: kmh(110),
      offCruiseShare: 0.05,
    });
    expect(judged.source).toBe('steady');
    expect(judged.finding?.code).toBe('durationTooShort');
    const traced = judgeProfile({
      distanceM: 100_000,
      durationS: 3000,
      cruiseSpeedMps: kmh(110),
      meanSquareSpeedM2S2: 900,
    });
    expect(traced).toMatchObject({ source: 'trace', finding: { code: 'durationTooShort' } });
  });

  it('tolerates what rounding a time to the minute can do', () => {
    const exact = 100_000 / kmh(110);
    expect(judgeProfile({ distanceM: 100_000, durationS: exact - 30, cruiseSpeedMps: kmh(110) })).toEqual({
      source: 'steady',
      finding: null,
    });
  });

  it('finds a duration that makes the off-cruise part crawl', () => {
    const cruiseSpeedMps = kmh(110);
    const distanceM = 100_000;
    const slow = { distanceM, cruiseSpeedMps, durationS: (distanceM / cruiseSpeedMps) * 1.6 };
    expect(judgeProfile({ ...slow, offCruiseShare: 0.05 }).finding?.code).toBe('durationTooLong');
    expect(judgeProfile({ ...slow, offCruiseShare: 0 }).finding?.code).toBe('durationTooLong');
    expect(judgeProfile(slow).finding?.code).toBe('durationTooLong');
  });

  it('66.8 mi in 61 min is a mean of 65 to 66 mph (common practice, no source)', () => {
    const meanMph = 66.8 / (61 / 60);
    expect(meanMph).toBeGreaterThan(65);
    expect(meanMph).toBeLessThan(66);
    const solved = solveProfile({
      distanceM: 66.8 * 1609.344,
      durationS: 61 * 60,
      cruiseSpeedMps: 70 * 0.44704,
    });
    expect(solved.judgement).toEqual({ source: 'ratio', finding: null });
    expect(solved.meanSquareSpeedM2S2).toBeLessThan((70 * 0.44704) ** 2);
    expect(solved.meanSquareSpeedM2S2).toBeGreaterThan((meanMph * 0.44704) ** 2);
  });
});

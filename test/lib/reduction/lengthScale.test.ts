import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthScale } from '@/lib/reduction/lengthScale';
import { recordingSnapshot } from '@/lib/reduction/recordingSnapshot';
import { runTrace } from '@/lib/reduction/runTrace';

const LOOP = { lengthM: 60_000, lengthUncertaintyM: 30 };
const reduction = {
  distanceM: 60_150,
  durationS: 2000,
  gapDistanceM: 0,
  meanSquareSpeedM2S2: 900,
  slowDowns: [{ startS: 900, endS: 930, distanceM: 30_000, fallM: 450, fromMps: 30, toMps: 0 }],
  cruise: {
    segments: [],
    durationS: 1900,
    distanceM: 57_000,
    meanSpeedMps: 30,
    spreadMps: 0.2,
    withinBandShare: 1,
    offCruiseShare: 0.05,
  },
  climb: null,
  bearings: { sectorShares: [1], meanCos: 0, meanSin: 0, meanCos2: 1, meanSin2: 0 },
  closureDistanceM: 10,
};

describe('lengthScale', () => {
  it('is the weighted mean of both lengths over the recorded one, by hand', () => {
    // u of the recording 0.3 % = 180.45 m, of the loop hypot(30, √2 × 30) = 51.96 m: 92.3 % of the way
    const share = 180.45 ** 2 / (180.45 ** 2 + 51.9615 ** 2);
    expect(lengthScale(reduction, LOOP)).toBeCloseTo(1 + share * (60_000 / 60_150 - 1), 9);
  });

  it('leaves alone what does not close or disagrees', () => {
    expect(lengthScale({ ...reduction, closureDistanceM: 201 }, LOOP)).toBe(1);
    expect(lengthScale({ ...reduction, distanceM: 60_390 }, LOOP)).toBe(1);
  });

  it('brings the length between the recorded and the loop’s, nearer the better the loop is known', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 59_700, max: 60_300, noNaN: true }),
        fc.double({ min: 1, max: 300, noNaN: true }),
        (distanceM, lengthUncertaintyM) => {
          const recording = { distanceM, closureDistanceM: 0 };
          const off = (uM: number) =>
            Math.abs(
              distanceM * lengthScale(recording, { lengthM: 60_000, lengthUncertaintyM: uM }) - 60_000,
            );
          expect(off(lengthUncertaintyM)).toBeLessThanOrEqual(Math.abs(distanceM - 60_000) + 1e-6);
          expect(off(lengthUncertaintyM)).toBeLessThanOrEqual(off(2 * lengthUncertaintyM) + 1e-6);
        },
      ),
    );
  });
});

describe('a scaled recording', () => {
  it('multiplies speeds once, their squares twice and falls as lengths; the recorded distance stays', () => {
    const scale = lengthScale(reduction, LOOP);
    const trace = runTrace(recordingSnapshot('a', reduction, LOOP), LOOP);
    expect(trace.distanceM).toBe(60_150);
    expect(trace.meanSquareSpeedM2S2).toBeCloseTo(900 * scale ** 2, 9);
    expect(trace.cruise?.meanSpeedMps).toBeCloseTo(30 * scale, 9);
    expect(trace.slowDowns[0]?.fallM).toBeCloseTo(450 * scale, 9);
    expect(trace.slowDowns[0]?.fromMps).toBeCloseTo(30 * scale, 9);
  });

  it('stays as it was in a snapshot from before there was a scale', () => {
    const before = { ...recordingSnapshot('a', reduction, LOOP), lengthScale: null };
    expect(runTrace(before, LOOP).meanSquareSpeedM2S2).toBe(900);
  });
});

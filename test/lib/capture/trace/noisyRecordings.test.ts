import { describe, expect, it } from 'vitest';
import { reduceTrace } from '@/lib/capture/trace/reduceTrace';
import type { ReducedTrace } from '@/lib/capture/trace/reduction';
import type { TracePoint } from '@/lib/capture/trace/tracePoint';
import { withSatelliteNoise } from './satelliteNoise';
import { coastDrive, drive } from './syntheticDrive';

function reduced(points: readonly TracePoint[]): ReducedTrace {
  const result = reduceTrace(points, { cruiseClassMps: coastDrive.cruiseMps });
  if (!result.ok) throw new Error(result.message);
  return result;
}
const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
const largest = (values: readonly number[]) => Math.max(...values.map(Math.abs));

/** What it was before the noise was minded: steps of at least 3 m summed up, and speed by differences over 5 s. */
function steppedLengthM(points: readonly TracePoint[]): number {
  let [metres, at] = [0, 0];
  const east = 111_320 * Math.cos((coastDrive.start.latitudeDeg * Math.PI) / 180);
  for (let k = 1; k < points.length; k++) {
    const [a, b] = [points[at] as TracePoint, points[k] as TracePoint];
    const step = Math.hypot(
      111_200 * (b.latitudeDeg - a.latitudeDeg),
      east * (b.longitudeDeg - a.longitudeDeg),
    );
    if (step < 3) continue;
    metres += step;
    at = k;
  }
  return metres;
}

const SEEDS = [1, 2, 3, 4, 5];

// Truth in closed form (syntheticDrive); noise drawn as a first-order Gauss–Markov process of 3 m each way.
describe.each([
  [1, 30, undefined],
  [2, 30, undefined],
  [10, 30, undefined],
  [1, 5, undefined],
  [10, 5, undefined],
  [1, 120, 5],
  [10, 30, 5],
  [1, 30, 4],
  [2, 10, 4],
  [10, 30, 4],
] as const)(
  '%d fixes a second, noise of 3 m correlated over %d s, %s decimals',
  (hz, correlationS, decimals) => {
    const truth = drive({ ...coastDrive, stepS: 1 / hz });
    const recordings = SEEDS.map((seed) =>
      withSatelliteNoise(truth.points, {
        seed: 100 * seed + correlationS,
        sigmaM: 3,
        correlationS,
        ...(decimals === undefined ? {} : { decimals }),
      }),
    );
    const results = recordings.map(reduced);

    it('has the mean square speed within 0.3 % each, and without bias', () => {
      const errors = results.map((r) => r.meanSquareSpeedM2S2 / truth.meanSquareSpeedM2S2 - 1);
      expect(largest(errors)).toBeLessThan(3e-3);
      expect(Math.abs(mean(errors))).toBeLessThan(1e-3);
    });

    it('has the distance and the cruise speed without bias', () => {
      const errors = results.map(({ distanceM }) => distanceM / truth.totalM - 1);
      expect(largest(errors)).toBeLessThan(7e-4);
      expect(Math.abs(mean(errors))).toBeLessThan(3e-4);
      const cruise = results.map((r) => (r.cruise?.meanSpeedMps ?? 0) / coastDrive.cruiseMps - 1);
      expect(Math.abs(mean(cruise))).toBeLessThan(1e-3);
    });

    it('finds the turnaround within 50 m and the halt', () => {
      expect(largest(results.map((r) => (r.turnaround?.distanceM ?? 0) - truth.outboundM))).toBeLessThan(50);
      for (const { stops } of results) {
        expect(stops.some(({ startS }) => Math.abs(startS - truth.haltStartS) < 8)).toBe(true);
      }
    });

    it('takes no noise for a braking: Σ(v_hi² − v_lo²) is that of two full stops within 6 % on average', () => {
      const braked = results.map((r) => r.squaredSpeedDropM2S2 / (2 * coastDrive.cruiseMps ** 2) - 1);
      expect(Math.abs(mean(braked))).toBeLessThan(0.06);
    });

    it('says that the cruise was held, as it was', () => {
      for (const { cruise } of results) {
        expect(cruise?.withinBandShare).toBeGreaterThan(0.98);
        expect(cruise?.spreadMps).toBeLessThan(0.25);
      }
    });
  },
);

describe('the same recordings without the noise in mind', () => {
  it('are too long: by 0.15 % and more at ten fixes a second, by far more with 4 decimals', () => {
    const truth = drive({ ...coastDrive, stepS: 0.1 });
    const fine = withSatelliteNoise(truth.points, { seed: 8, sigmaM: 3, correlationS: 30 });
    const coarse = withSatelliteNoise(truth.points, { seed: 8, sigmaM: 3, correlationS: 30, decimals: 4 });
    expect(steppedLengthM(fine) / truth.totalM - 1).toBeGreaterThan(1.5e-3);
    expect(steppedLengthM(coarse) / truth.totalM - 1).toBeGreaterThan(0.05);
  });

  it('would let a car crawl while it stands: half an hour of rest adds no distance', () => {
    const truth = drive({ ...coastDrive, haltS: 1800 });
    const result = reduced(withSatelliteNoise(truth.points, { seed: 4, sigmaM: 3, correlationS: 30 }));
    expect(Math.abs(result.distanceM / truth.totalM - 1)).toBeLessThan(1e-3);
  });

  it('holds at uneven times: half of the fixes lost at random', () => {
    const truth = drive(coastDrive);
    const noisy = withSatelliteNoise(truth.points, { seed: 6, sigmaM: 3, correlationS: 30 });
    const lossy = noisy.filter((_, k) => k === 0 || k === noisy.length - 1 || Math.sin(k * k) > 0);
    const result = reduced(lossy);
    expect(lossy.length).toBeLessThan(0.6 * noisy.length);
    expect(Math.abs(result.meanSquareSpeedM2S2 / truth.meanSquareSpeedM2S2 - 1)).toBeLessThan(3e-3);
    expect(Math.abs(result.distanceM / truth.totalM - 1)).toBeLessThan(7e-4);
    expect(Math.abs((result.turnaround?.distanceM ?? 0) - truth.outboundM)).toBeLessThan(50);
  });
});

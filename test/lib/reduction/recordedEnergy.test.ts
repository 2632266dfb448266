import { describe, expect, it } from 'vitest';
import { reduceTrace } from '@/lib/capture/trace/reduceTrace';
import type { TracePoint } from '@/lib/capture/trace/tracePoint';
import { seededRandom } from '@/lib/numerics/seededRandom';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { loopDriving } from '@/lib/reduction/loopDriving';
import { recordingSnapshot } from '@/lib/reduction/recordingSnapshot';
import { runTrace } from '@/lib/reduction/runTrace';
import { withSatelliteNoise } from '../capture/trace/satelliteNoise';
import { coastDrive, placeAlong } from '../capture/trace/syntheticDrive';
import { sampled, steadyReferenceWhPerKm } from '../physics/drivenEnergy';
import { DRIVING, type Driven, driveOne, LENGTH_M, mean, normalised, part, rms } from '../physics/drivenRuns';

const DRIVES = 40;
const LOOP = { lengthM: LENGTH_M, lengthUncertaintyM: 60 };
/** A road with bends of 1 km radius, as long as the drives are. */
const ROAD = {
  ...coastDrive,
  pieces: [...coastDrive.pieces, { lengthM: 10_000, bearingDeg: 113 }],
};

/** What a receiver writes of a drive out and back on the road. */
function recorded({ drive }: Driven, stepS: number, noise: Parameters<typeof withSatelliteNoise>[1]) {
  const points = sampled(drive, stepS).distanceM.map(
    (metres, k): TracePoint => ({
      ...placeAlong(ROAD, Math.min(metres, LENGTH_M - metres)),
      elevationM: null,
      timeMs: Math.round(1000 * k * stepS),
      speedMps: null,
      powerW: null,
    }),
  );
  const reduction = reduceTrace(withSatelliteNoise(points, noise));
  if (!reduction.ok) throw new Error(reduction.message);
  return runTrace(recordingSnapshot('', reduction, LOOP), LOOP);
}

/**
 * The whole way of a recording, from noisy fixes to a normalised run and to the loop's figures, against energy summed
 * metre by metre (drivenEnergy.ts).
 */
describe.each([
  [90, 1, 30, undefined],
  [110, 0.5, 10, 5],
  [130, 1, 60, 4],
] as const)(
  'runs at %d km/h, a fix every %d s, noise of 3 m over %d s, %s decimals',
  (kmh, stepS, correlationS, decimals) => {
    const classMps = kmh / 3.6;
    const random = seededRandom(kmh + 1);
    const drives = Array.from({ length: DRIVES }, () =>
      driveOne(random, classMps, (source) => Math.floor(6 * source.nextUniform())),
    );
    const traces = drives.map((driven, k) =>
      recorded(driven, stepS, {
        seed: 1000 * kmh + k,
        sigmaM: 3,
        correlationS,
        ...(decimals === undefined ? {} : { decimals }),
      }),
    );
    const truth = drives.map(({ car }) => steadyReferenceWhPerKm(car, classMps));
    const relative = (runs: readonly NormalisedRun[]) =>
      runs.map((run, i) => run.normalisedWhPerKm / (truth[i] as number) - 1);

    const byRecording = drives.map((driven, i) => {
      const trace = traces[i] as (typeof traces)[number];
      return normalised(driven, classMps, {
        cruiseSpeedMps: trace.cruise?.meanSpeedMps,
        meanSquareSpeedM2S2: trace.meanSquareSpeedM2S2,
        stops: trace.slowDowns.map(({ fromMps, toMps, fallM }) => ({
          fromMps,
          toMps,
          distanceM: fallM ?? undefined,
        })),
      });
    });
    const byLoop = drives.map((driven, i) => {
      const driving = loopDriving(
        traces.filter((_, j) => j !== i),
        driven.cruiseMps,
      );
      return normalised(driven, classMps, {
        meanSquareRatio: driving?.meanSquareRatio.value,
        timeRatio: driving?.timeRatio,
        stops: driving?.brakingFalls,
      });
    });

    it('are unbiased within 0.2 % by their own recording, and scatter no more than stated', () => {
      const errors = relative(byRecording);
      expect(Math.abs(mean(errors))).toBeLessThan(2e-3);
      expect(rms(errors)).toBeLessThan(
        mean(byRecording.map((run) => part(run, [...DRIVING, 'cruiseSpeedMps']))),
      );
    });

    it('are unbiased within 0.2 % by the recordings of others, and scatter no more than stated', () => {
      const errors = relative(byLoop);
      expect(Math.abs(mean(errors))).toBeLessThan(2e-3);
      expect(rms(errors)).toBeLessThan(mean(byLoop.map((run) => part(run, DRIVING))));
    });
  },
);

import { describe, expect, it } from 'vitest';
import { type RandomSource, seededRandom } from '@/lib/numerics/seededRandom';
import { brakingFalls } from '@/lib/physics/braking';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { sampled, steadyReferenceWhPerKm } from './drivenEnergy';
import { DRIVING, type Driven, driveOne, LENGTH_M, mean, normalised, part, rms } from './drivenRuns';

const DRIVES = 48;

interface Moments {
  meanSquareM2S2: number;
  falls: { fromMps: number; toMps: number; distanceM: number }[];
  timeRatio: number;
}

function momentsOf({ drive, cruiseMps }: Driven): Moments {
  const { distanceM, speedMps } = sampled(drive);
  let [metres, cubes] = [0, 0];
  for (let k = 1; k < speedMps.length; k++) {
    const [a, b] = [speedMps[k - 1] as number, speedMps[k] as number];
    metres += (a + b) / 2;
    cubes += ((a + b) * (a * a + b * b)) / 4;
  }
  const falls = brakingFalls(distanceM, speedMps).map(({ fromMps, toMps, distanceM: over }) => ({
    fromMps,
    toMps,
    distanceM: over,
  }));
  const durationS = drive.timeS.at(-1) as number;
  return { meanSquareM2S2: cubes / metres, falls, timeRatio: (durationS * cruiseMps) / LENGTH_M };
}

describe.each([
  ['no traffic', 90, () => 0],
  ['no traffic', 130, () => 0],
  ['0 to 5 slow-downs', 90, (random: RandomSource) => Math.floor(6 * random.nextUniform())],
  ['0 to 5 slow-downs', 110, (random: RandomSource) => Math.floor(6 * random.nextUniform())],
  ['0 to 5 slow-downs', 130, (random: RandomSource) => Math.floor(6 * random.nextUniform())],
] as const)('the engine against energy summed metre by metre: %s at %d km/h', (_, kmh, traffic) => {
  const classMps = kmh / 3.6;
  const random = seededRandom(kmh);
  const drives = Array.from({ length: DRIVES }, () => driveOne(random, classMps, traffic));
  const moments = drives.map(momentsOf);
  const truth = drives.map(({ car }) => steadyReferenceWhPerKm(car, classMps));
  const relative = (runs: readonly NormalisedRun[]) =>
    runs.map((run, i) => run.normalisedWhPerKm / (truth[i] as number) - 1);

  const recorded = drives.map((driven, i) =>
    normalised(driven, classMps, {
      meanSquareSpeedM2S2: moments[i]?.meanSquareM2S2,
      stops: moments[i]?.falls,
    }),
  );
  // without a recording: what the recordings of the others say of the loop
  const unrecorded = drives.map((driven, i) => {
    const others = moments
      .filter((__, j) => j !== i)
      .map((each, j) => ({ ...each, driven: drives[j < i ? j : j + 1] }));
    const ratio = mean(others.map((each) => each.meanSquareM2S2 / (each.driven?.cruiseMps ?? 1) ** 2));
    return normalised(driven, classMps, {
      meanSquareRatio: ratio,
      timeRatio: mean(others.map((each) => each.timeRatio)),
      stops: others.flatMap((each) => each.falls.map((fall) => ({ ...fall, count: 1 / others.length }))),
    });
  });

  it('is unbiased within 0.2 % with a recording, and scatters no more than stated', () => {
    const errors = relative(recorded);
    expect(Math.abs(mean(errors))).toBeLessThan(0.002);
    expect(rms(errors)).toBeLessThan(mean(recorded.map((run) => part(run, DRIVING))));
  });

  it('is unbiased within 0.2 % without one, and scatters no more than stated', () => {
    const errors = relative(unrecorded);
    expect(Math.abs(mean(errors))).toBeLessThan(0.002);
    expect(rms(errors)).toBeLessThan(mean(unrecorded.map((run) => part(run, DRIVING))));
  });

  it('gives the two paths of one run the same result within what they state of the driving', () => {
    const standardised = recorded.map((run, i) => {
      const other = unrecorded[i] as NormalisedRun;
      const difference = run.normalisedWhPerKm / other.normalisedWhPerKm - 1;
      return difference / Math.hypot(part(run, DRIVING), part(other, DRIVING));
    });
    expect(rms(standardised)).toBeLessThan(1);
    // of 48, 99.9 % of a normal lies within 3.3
    expect(Math.max(...standardised.map(Math.abs))).toBeLessThan(3.3);
  });

  it('comes out low by more than that when the whole fall of kinetic energy is charged', () => {
    // a fall without distance driven is charged in full, as the first version did
    const charged = drives.map((driven, i) =>
      normalised(driven, classMps, {
        meanSquareSpeedM2S2: moments[i]?.meanSquareM2S2,
        stops: moments[i]?.falls.map((fall) => ({ ...fall, distanceM: 0 })),
      }),
    );
    expect(mean(relative(charged))).toBeLessThan(mean(relative(recorded)) - 0.002);
  });
});

import type { NormalisedRun } from '@/lib/physics/normalise';
import { leavesRoadLoad } from '@/prisma/demo/world/drawnTruth';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { DRAWN_SCOPES, type DrawnScope, type TruthOptions } from '@/prisma/demo/world/priorDraws';
import type { DemoWorld } from '@/prisma/demo/world/types';
import { reduceWorld } from '../lib/demo/reduceWorld';

/** A run's error on the log scale and what its result stated of it. */
export interface JudgedRun {
  error: number;
  result: NormalisedRun;
}

/**
 * Errors of a whole world's good runs against the truth that it was made from: ln of the result less ln of the true
 * consumption at reference conditions and the effects of car, day and run that no prior knows of.
 */
export function judgedRuns(seed: number, truth: TruthOptions, isAsDelivered: boolean): JudgedRun[] {
  const world = generateDemoWorld({ seed, truth });
  return reduceWorld(world).flatMap(({ run, revision, reduction }) => {
    const { result } = reduction;
    const known = world.truth.runs[run.key];
    if (result.outcome !== 'normalised' || revision.fault !== undefined || known === undefined) return [];
    if (isAsDelivered && !isDelivered(world, run.setupKey)) return [];
    const reference = world.truth.referenceWhPerKm[run.setupKey]?.[run.cruiseClassKey] ?? Number.NaN;
    return [{ error: Math.log(result.normalisedWhPerKm / reference) - known.logEffect, result }];
  });
}

function isDelivered(world: DemoWorld, setupKey: string): boolean {
  return world.models.some((model) =>
    model.setups.some((setup) => setup.key === setupKey && leavesRoadLoad(model, setup)),
  );
}

export interface ScopeRatio {
  scope: DrawnScope;
  /** rms of error over stated u of the scope, over all runs, and its standard error clustered by world. */
  ratio: number;
  standardError: number;
}

/** Bands of method A5.3 over 20 worlds of the demo's size; method scope over 200. */
export const BANDS: Readonly<Record<DrawnScope, readonly [number, number]>> = {
  run: [0.93, 1.07],
  session: [0.92, 1.08],
  car: [0.88, 1.12],
  model: [0.8, 1.2],
  method: [0.85, 1.15],
};

/**
 * rms(error/u) of one scope: worlds in which only it departs from the priors, against the same worlds in which nothing
 * does, so that rounding and what the model leaves out are alike on both sides.
 */
export function scopeRatio(scope: DrawnScope, seeds: readonly number[], stretch = 1): ScopeRatio {
  const squares = seeds.map((seed) => {
    const still = judgedRuns(seed, { scopes: [] }, true);
    const moved = judgedRuns(seed, { scopes: [scope], stretch }, true);
    let [sum, count] = [0, 0];
    moved.forEach(({ error, result }, i) => {
      const u = (result.uByScope[scope] ?? 0) / result.normalisedWhPerKm;
      // the run's own rounding is in both and is part of its u: there the error itself is judged
      const centre = scope === 'run' ? 0 : (still[i]?.error ?? 0);
      sum += ((error - centre) / u) ** 2;
      count++;
    });
    return sum / count;
  });
  const mean = squares.reduce((a, b) => a + b, 0) / squares.length;
  const variance = squares.reduce((a, b) => a + (b - mean) ** 2, 0) / Math.max(1, squares.length - 1);
  const ratio = Math.sqrt(mean);
  return { scope, ratio, standardError: Math.sqrt(variance / squares.length) / (2 * ratio) };
}

export interface RunCoverage {
  covered: number;
  standardError: number;
  runs: number;
}

/** Share of single runs whose 95 % interval holds the truth; standard error clustered by world. */
export function runCoverage(seeds: readonly number[], stretch = 1): RunCoverage {
  const shares = seeds.map((seed) => {
    const runs = judgedRuns(seed, { stretch }, false);
    const held = runs.filter(({ error, result }) => {
      const truth = result.normalisedWhPerKm / Math.exp(error);
      return result.interval95[0] <= truth && truth <= result.interval95[1];
    });
    return { share: held.length / runs.length, runs: runs.length };
  });
  const covered = shares.reduce((sum, { share }) => sum + share, 0) / shares.length;
  const variance =
    shares.reduce((sum, { share }) => sum + (share - covered) ** 2, 0) / Math.max(1, shares.length - 1);
  return {
    covered,
    standardError: Math.sqrt(variance / shares.length),
    runs: shares.reduce((sum, { runs }) => sum + runs, 0),
  };
}

const WORLDS = 20;

/** Printed by `npm run bench -- coverage`. */
export function benchBudget(): void {
  const seeds = Array.from({ length: WORLDS }, (_, i) => 500 + i);
  console.log(
    `the budget of single runs over ${WORLDS} whole worlds whose truth draws every prior (clustered by world)`,
  );
  const within = (value: number, [low, high]: readonly [number, number]) =>
    value >= low && value <= high ? '' : `  OUTSIDE ${low}–${high}`;
  for (const scope of DRAWN_SCOPES) {
    // all runs of a world share the one draw of the method: that takes many more of them
    const of = scope === 'method' ? Array.from({ length: 10 * WORLDS }, (_, i) => 500 + i) : seeds;
    const { ratio, standardError } = scopeRatio(scope, of);
    console.log(
      `  rms(error/u) of scope ${scope}: ${ratio.toFixed(3)} ± ${standardError.toFixed(3)}${within(ratio, BANDS[scope])}`,
    );
  }
  const { covered, standardError, runs } = runCoverage(seeds);
  const percent = (share: number) => (100 * share).toFixed(1);
  console.log(
    `  95 % intervals of ${runs} single runs hold ${percent(covered)} ± ${percent(standardError)} %${within(covered, [0.93, 0.97])}`,
  );
  const wrong = runCoverage(seeds, 1.5);
  const worse = scopeRatio('run', seeds, 1.5);
  console.log(
    `  with a truth of 1.5 times the stated u: ${percent(wrong.covered)} % held, run scope ${worse.ratio.toFixed(3)} (has to fail:${wrong.covered < 0.93 ? '' : ' DOES NOT'} fails)`,
  );
}

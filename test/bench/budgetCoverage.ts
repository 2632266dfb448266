import type { NormalisedRun } from '@/lib/physics/normalise';
import { leavesRoadLoad } from '@/prisma/demo/world/drawnTruth';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import type { DrawnScope, TruthOptions } from '@/prisma/demo/world/priorDraws';
import type { DemoWorld } from '@/prisma/demo/world/types';
import { reduceWorld } from '../lib/demo/reduceWorld';
import type { Tally } from './coverageCount';

/** A run's error on the log scale and what its result stated of it. */
export interface JudgedRun {
  error: number;
  result: NormalisedRun;
}

export interface Judging {
  /** Only runs of setups that leave the road load as delivered: there the model's priors are the setup's. */
  isAsDelivered?: boolean;
  /** Every so manieth run; all unless given. */
  every?: number;
}

/**
 * Errors of a whole world's good runs against the truth that it was made from: ln of the result less ln of the true
 * consumption at reference conditions and the effects of car, day and run that no prior knows of.
 */
export function judgedRuns(
  seed: number,
  truth: TruthOptions,
  { isAsDelivered = false, every = 1 }: Judging = {},
): JudgedRun[] {
  const world = generateDemoWorld({ seed, truth });
  const wanted = new Set(
    world.runs
      .filter(({ setupKey }) => !isAsDelivered || isDelivered(world, setupKey))
      .filter((_, i) => i % every === 0),
  );
  return reduceWorld(world, (run) => wanted.has(run)).flatMap(({ run, revision, reduction }) => {
    const { result } = reduction;
    const known = world.truth.runs[run.key];
    if (result.outcome !== 'normalised' || revision.fault !== undefined || known === undefined) return [];
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

/** All runs of a world share the one draw of the method: that takes many more worlds, of which a few runs say enough. */
const EVERY_FOR_METHOD = 5;

/**
 * Mean squared error/u of one scope by world: worlds in which only it departs from the priors, against the same worlds in
 * which nothing does, so that rounding and what the model leaves out are alike on both sides.
 */
export function scopeSquares(scope: DrawnScope, seeds: readonly number[], stretch = 1): number[] {
  const judging = { isAsDelivered: true, every: scope === 'method' ? EVERY_FOR_METHOD : 1 };
  return seeds.map((seed) => {
    // the run's own rounding is in both and is part of its u: there the error itself is judged
    const still = scope === 'run' ? [] : judgedRuns(seed, { scopes: [] }, judging);
    const moved = judgedRuns(seed, { scopes: [scope], stretch }, judging);
    let [sum, count] = [0, 0];
    moved.forEach(({ error, result }, i) => {
      const u = (result.uByScope[scope] ?? 0) / result.normalisedWhPerKm;
      sum += ((error - (still[i]?.error ?? 0)) / u) ** 2;
      count++;
    });
    return sum / count;
  });
}

/** rms(error/u) of a scope from its mean squares by world. */
export function ratioOf(scope: DrawnScope, squares: readonly number[]): ScopeRatio {
  const mean = squares.reduce((a, b) => a + b, 0) / squares.length;
  const variance = squares.reduce((a, b) => a + (b - mean) ** 2, 0) / Math.max(1, squares.length - 1);
  const ratio = Math.sqrt(mean);
  return { scope, ratio, standardError: Math.sqrt(variance / squares.length) / (2 * ratio) };
}

/** By world, single runs whose 95 % interval holds the truth. */
export function runTallies(seeds: readonly number[], stretch = 1): Tally[] {
  return seeds.map((seed) => {
    const runs = judgedRuns(seed, { stretch });
    const held = runs.filter(({ error, result }) => {
      const truth = result.normalisedWhPerKm / Math.exp(error);
      return result.interval95[0] <= truth && truth <= result.interval95[1];
    });
    return { held: held.length, of: runs.length };
  });
}

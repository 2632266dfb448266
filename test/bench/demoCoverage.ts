import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';
import { youngClassSpread } from '@/lib/physics/priors';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { FitOptions, GroupFit } from '@/lib/stats/groupFit';
import { moderationFor, seenDegrees } from '@/lib/stats/moderation';
import { needsPooledCarLoop, poolCarLoop } from '@/lib/stats/pooling';
import { columnsOf } from '@/lib/stats/runColumns';
import { layOutColumns } from '@/lib/stats/structure';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import type { DemoWorld } from '@/prisma/demo/world/types';
import { fitRows, reduceWorld } from '../lib/demo/reduceWorld';
import { type Coverage, coverageOf, judgeFit, type Verdict } from './coverageCount';

/** The world that `npm run seed:demo` loads. */
export const DEMO_SEED = 20_261_031;

/** The runs of each class of a world as its fit would get them: layout, uncertainties and normalised numbers. */
export type WorldRows = ReadonlyMap<string, readonly FitRow[]>;

export function rowsByClass(world: DemoWorld): WorldRows {
  const reduced = reduceWorld(world);
  const classes = [...new Set(world.runs.map((run) => run.cruiseClassKey))].sort();
  return new Map(classes.map((key) => [key, fitRows(reduced, key)]));
}

/** Classes whose fit draws the variance of runs toward what is assumed: too few runs to see it by themselves (method B5). */
export function youngClasses(rows: WorldRows): Set<string> {
  const { carSd, sessionSd, runSd } = youngClassSpread();
  const spread = { car: carSd ** 2, session: sessionSd ** 2, residual: runSd ** 2 };
  return new Set(
    [...rows].flatMap(([key, of]) => {
      const seen = seenDegrees(layOutColumns(columnsOf(of)));
      return moderationFor(seen, spread).residual === undefined ? [] : [key];
    }),
  );
}

/** How a world is drawn anew. */
export interface Redrawing {
  /**
   * `drawn`: each world's true spreads log-normal about the priors, by 0.35 on the log scale as in method B5; `own`: those
   * of the demo world, the same in every world, so that what is assumed of a young class is always right or always wrong.
   */
  spreads?: 'drawn' | 'own';
  /** Spread of a car's own deviation on each loop, log scale. */
  carLoopSd?: number;
  /** Spread of what a loop does to all cars on it, beyond what its budget states; log scale. */
  loopSd?: number;
  /** How many times as far from its value every stated uncertainty lies. */
  stretch?: number;
  /** The class that alone is fitted; what is pooled comes from all. */
  only?: string;
  /** Filled with what was drawn, in standard uncertainties: by "scope key" for what runs share. */
  drawn?: Map<string, number>;
}

/**
 * A world's approved runs drawn anew on ln values: effects of cars and days, each run's own part, and every input that
 * runs share once per key, so that one draw moves all runs that share it.
 */
export function redraw(world: DemoWorld, rows: WorldRows, random: Random, how: Redrawing = {}): WorldRows {
  const { carLoopSd = 0, loopSd = 0, stretch = 1, spreads = 'drawn' } = how;
  const spread = spreads === 'own' ? world.truth.spread : drawSpreads(random);
  const drawn = how.drawn ?? new Map<string, number>();
  const once = (key: string, draw: () => number) => {
    const known = drawn.get(key) ?? draw();
    drawn.set(key, known);
    return known;
  };
  const normal = () => drawNormal(random);
  // The generator draws a car again that lies beyond 2.5 standard deviations.
  const carNormal = (): number => {
    const z = normal();
    return Math.abs(z) <= 2.5 ? z : carNormal();
  };
  return new Map(
    [...rows].map(([cruiseClassKey, of]) => [
      cruiseClassKey,
      of.map((row) => {
        const effects =
          spread.car * once(`car ${row.car}`, carNormal) +
          spread.session * once(`session ${row.session}`, normal) +
          carLoopSd * once(`car ${row.car} on ${row.loop}`, normal) +
          loopSd * once(`loop ${row.loop}`, normal);
        const shared = (row.shared ?? []).reduce(
          (sum, { scope, key, contribution }) => sum + contribution * once(`${scope} ${key}`, normal),
          0,
        );
        const own = spread.repeatability * normal() + stretch * row.u * normal();
        return { ...row, z: trueLog(world, row.setup, cruiseClassKey) + effects + stretch * shared + own };
      }),
    ]),
  );
}

/** True spreads of a world about what is believed of them before its runs tell (method B5). */
export function drawSpreads(random: Random): { car: number; session: number; repeatability: number } {
  const { carSd, sessionSd, runSd } = youngClassSpread();
  const about = (sd: number) => sd * Math.exp(0.35 * drawNormal(random));
  return { car: about(carSd), session: about(sessionSd), repeatability: about(runSd) };
}

export function trueLog(world: DemoWorld, setup: string, cruiseClassKey: string): number {
  return Math.log(world.truth.referenceWhPerKm[setup]?.[cruiseClassKey] ?? Number.NaN);
}

/** Fits every class as the registry does: the protocol's counts, a young class moderated, the car on a loop pooled over the world. */
export function fitWorld(rows: WorldRows, options: FitOptions, only?: string): Map<string, GroupFit> {
  const { runs, sessions, carsAcrossModels } = NEWEST_VERSION.parameters.ranking;
  const all = [...rows].flatMap(([key, of]) =>
    of.map((row) => ({ ...row, setup: `${row.setup} at ${key}` })),
  );
  const pooled = poolCarLoop(all, 'all classes');
  const fitted = [...rows].filter(([key]) => only === undefined || key === only);
  return new Map(
    fitted.map(([cruiseClassKey, of]) => [
      cruiseClassKey,
      fitGroup(of, {
        modelOf: (setup) => setup.split('/')[0] ?? '',
        minimumCounts: { runs, sessions, cars: carsAcrossModels },
        priors: youngClassSpread(),
        ...(pooled === null || !needsPooledCarLoop(of) ? {} : { pooledCarLoop: pooled }),
        ...options,
      }),
    ]),
  );
}

function judgeWorld(
  world: DemoWorld,
  rows: WorldRows,
  seed: number,
  into: Map<string, Verdict[]>,
  only?: string,
): void {
  for (const [key, fit] of fitWorld(rows, { draws: 2000, seed }, only)) {
    const verdicts = into.get(key) ?? [];
    verdicts.push(judgeFit(fit, (setup) => trueLog(world, setup, key)));
    into.set(key, verdicts);
  }
}

/** The demo world's own layout, its effects drawn anew for each replicate; per class. */
export function judgeRedrawn(
  world: DemoWorld,
  replicates: number,
  seed: number,
  how: Redrawing = {},
): Map<string, Verdict[]> {
  const random = createRandom(seed);
  const rows = rowsByClass(world);
  const verdicts = new Map<string, Verdict[]>();
  for (let i = 0; i < replicates; i++)
    judgeWorld(world, redraw(world, rows, random, how), i + 1, verdicts, how.only);
  return verdicts;
}

export function measureRedrawn(...of: Parameters<typeof judgeRedrawn>): Map<string, Coverage> {
  return new Map([...judgeRedrawn(...of)].map(([key, verdicts]) => [key, coverageOf(verdicts)]));
}

/** Whole worlds made from new seeds: weather, readings, faults and review, brought through the registry's own line. */
export function judgeRegenerated(seeds: readonly number[]): Map<string, Verdict[]> {
  const verdicts = new Map<string, Verdict[]>();
  for (const seed of seeds) {
    const world = generateDemoWorld({ seed });
    judgeWorld(world, rowsByClass(world), seed, verdicts);
  }
  return verdicts;
}

import { createRandom, drawNormal, type Random } from '@/lib/numerics/random';
import { youngClassSpread } from '@/lib/physics/priors';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import type { FitOptions, GroupFit } from '@/lib/stats/groupFit';
import { needsPooledCarLoop, poolCarLoop } from '@/lib/stats/pooling';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import type { DemoWorld } from '@/prisma/demo/world/types';
import { fitRows, reduceWorld } from '../lib/demo/reduceWorld';
import { type Coverage, coverageOf, judgeFit, type Verdict } from './coverageCount';

/** The runs of each class of a world as its fit would get them: layout, uncertainties and normalised numbers. */
export type WorldRows = ReadonlyMap<string, readonly FitRow[]>;

export function rowsByClass(world: DemoWorld): WorldRows {
  const reduced = reduceWorld(world);
  const classes = [...new Set(world.runs.map((run) => run.cruiseClassKey))].sort();
  return new Map(classes.map((key) => [key, fitRows(reduced, key)]));
}

/** A world's approved runs with their effects drawn anew; whatever else went into the readings is in each run's u. */
export function redraw(world: DemoWorld, rows: WorldRows, random: Random): WorldRows {
  const { spread } = world.truth;
  const effects = new Map<string, number>();
  const effect = (key: string, draw: () => number) => {
    const known = effects.get(key);
    if (known !== undefined) return known;
    const drawn = draw();
    effects.set(key, drawn);
    return drawn;
  };
  // The generator draws a car again that lies beyond 2.5 standard deviations.
  const drawCar = (): number => {
    const drawn = drawNormal(random);
    return Math.abs(drawn) <= 2.5 ? spread.car * drawn : drawCar();
  };
  return new Map(
    [...rows].map(([cruiseClassKey, of]) => [
      cruiseClassKey,
      of.map((row) => {
        const car = effect(`car ${row.car}`, drawCar);
        const session = effect(`session ${row.session}`, () => spread.session * drawNormal(random));
        const run = Math.hypot(spread.repeatability, row.u) * drawNormal(random);
        return { ...row, z: trueLog(world, row.setup, cruiseClassKey) + car + session + run };
      }),
    ]),
  );
}

function trueLog(world: DemoWorld, setup: string, cruiseClassKey: string): number {
  return Math.log(world.truth.referenceWhPerKm[setup]?.[cruiseClassKey] ?? Number.NaN);
}

/** Fits every class as the registry does: the protocol's counts, a young class moderated, the car on a loop pooled over the world. */
export function fitWorld(rows: WorldRows, options: FitOptions): Map<string, GroupFit> {
  const { runs, sessions, carsAcrossModels } = NEWEST_VERSION.parameters.ranking;
  const all = [...rows].flatMap(([key, of]) =>
    of.map((row) => ({ ...row, setup: `${row.setup} at ${key}` })),
  );
  const pooled = poolCarLoop(all, 'all classes');
  return new Map(
    [...rows].map(([cruiseClassKey, of]) => [
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

function judgeWorld(world: DemoWorld, rows: WorldRows, seed: number, into: Map<string, Verdict[]>): void {
  for (const [key, fit] of fitWorld(rows, { draws: 2000, seed })) {
    const verdicts = into.get(key) ?? [];
    verdicts.push(judgeFit(fit, (setup) => trueLog(world, setup, key)));
    into.set(key, verdicts);
  }
}

const summarise = (verdicts: ReadonlyMap<string, readonly Verdict[]>): Map<string, Coverage> =>
  new Map([...verdicts].map(([key, of]) => [key, coverageOf(of)]));

/** The demo world's own layout, its effects drawn anew for each replicate; per class. */
export function measureRedrawn(world: DemoWorld, replicates: number, seed: number): Map<string, Coverage> {
  const random = createRandom(seed);
  const rows = rowsByClass(world);
  const verdicts = new Map<string, Verdict[]>();
  for (let i = 0; i < replicates; i++) judgeWorld(world, redraw(world, rows, random), i + 1, verdicts);
  return summarise(verdicts);
}

/** Whole worlds made from new seeds: weather, readings, faults and review, brought through the registry's own line. */
export function measureRegenerated(seeds: readonly number[]): Map<string, Coverage> {
  const verdicts = new Map<string, Verdict[]>();
  for (const seed of seeds) {
    const world = generateDemoWorld({ seed });
    judgeWorld(world, rowsByClass(world), seed, verdicts);
  }
  return summarise(verdicts);
}

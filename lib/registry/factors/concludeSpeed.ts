import { sharedContributions } from '@/lib/reduction/runParts';
import type { CruiseClass } from '@/lib/run/cruiseClass';
import type { WorldKey } from '@/lib/run/world';
import { COMPONENTS, type Component } from '@/lib/stats/accumulate';
import {
  type DrivenRun,
  type FittedVariances,
  type SpeedPair,
  type SpeedStep,
  speedSteps,
} from '@/lib/stats/factors/speedSteps';
import type { FitSummary } from '@/lib/stats/stored';
import { publishCruiseSpeed, runsOfSetup, setupsInTwoClasses } from '@/lib/store/factorConclusions';
import { currentFit } from '@/lib/store/fits';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { MOST_MODELS } from './bounds';

/** Two classes that are closer than this say too little of what speed does. Common practice, no source. */
const LEAST_STEP_MPS = 9.5 / 3.6;

/** What the faster of two classes cost, from the cars that drove one setup in both; for each class and the next. */
export async function concludeSpeed(
  registry: Registry,
  world: WorldKey,
  classes: readonly CruiseClass[],
): Promise<void> {
  const startedAt = performance.now();
  const methodVersion = await shownLabel(registry.db, world);
  const steps: SpeedStep[] = [];
  for (const [slow, fast] of stepsBetween(classes)) {
    const step = await readStep(registry, { world, methodVersion }, slow, fast);
    if (step !== undefined) steps.push(step);
  }
  await registry.db.$transaction((tx) =>
    publishCruiseSpeed(tx, {
      world,
      methodVersion,
      computedAt: registry.now(),
      durationMs: performance.now() - startedAt,
      result: { version: 1, steps: speedSteps(steps, MOST_MODELS) },
    }),
  );
}

/** Each class with the next one that is faster by enough. */
export function stepsBetween(classes: readonly CruiseClass[]): [CruiseClass, CruiseClass][] {
  const bySpeed = [...classes].sort((a, b) => a.speedMps - b.speedMps);
  return bySpeed.flatMap((slow): [CruiseClass, CruiseClass][] => {
    const fast = bySpeed.find(({ speedMps }) => speedMps - slow.speedMps >= LEAST_STEP_MPS);
    return fast === undefined ? [] : [[slow, fast]];
  });
}

async function readStep(
  registry: Registry,
  of: { world: WorldKey; methodVersion: string },
  slow: CruiseClass,
  fast: CruiseClass,
): Promise<SpeedStep | undefined> {
  const [slowFit, fastFit] = await Promise.all(
    [slow, fast].map(({ key }) => currentFit(registry.db, { world: of.world, cruiseClassKey: key })),
  );
  if (slowFit?.summary === undefined || fastFit?.summary === undefined) return undefined;
  const found = await setupsInTwoClasses(registry.db, { ...of, slowKey: slow.key, fastKey: fast.key });
  const pairs: SpeedPair[] = [];
  const asked = new Set<string>();
  for (const { modelId, setupId } of found) {
    // one setup stands for a model: that with most cars, as delivered where several have as many
    if (asked.has(modelId)) continue;
    asked.add(modelId);
    const [slowRuns, fastRuns] = await Promise.all(
      [slow, fast].map(({ key }) => driven(registry, { ...of, setupId, cruiseClassKey: key })),
    );
    pairs.push({ modelId, setupId, slow: slowRuns ?? [], fast: fastRuns ?? [] });
  }
  return {
    slowKey: slow.key,
    fastKey: fast.key,
    slow: variancesOf(slowFit.summary),
    fast: variancesOf(fastFit.summary),
    pairs,
  };
}

/** A class's components; where an older fit did not keep how well they are known, they are taken as known. */
function variancesOf({ components, componentCovariance }: FitSummary): FittedVariances {
  const of = (a: Component, b: Component) =>
    componentCovariance[COMPONENTS.indexOf(a)]?.[COMPONENTS.indexOf(b)];
  const [session, residual, both] = [
    of('session', 'session'),
    of('residual', 'residual'),
    of('session', 'residual'),
  ];
  if (session === undefined || residual === undefined || both === undefined) return { components };
  return { components, uncertainty: { session, residual, both } };
}

async function driven(registry: Registry, of: Parameters<typeof runsOfSetup>[1]): Promise<DrivenRun[]> {
  const runs = await runsOfSetup(registry.db, of);
  return runs.map(({ carId, sessionId, testerId, z, u, parts }) => ({
    car: carId,
    session: sessionId,
    tester: testerId,
    z,
    u,
    shared: sharedContributions(parts),
  }));
}

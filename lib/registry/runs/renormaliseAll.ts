import { type Method, reduceRun } from '@/lib/reduction/reduceRun';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import { attempt } from '@/lib/run/attempt';
import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { WORLDS, type WorldKey } from '@/lib/run/world';
import { countedSubjects, lockRuns } from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { countRevisionsWithout, revisionsWithout, storeNormalisation } from '@/lib/store/normalisations';
import { shownLabel } from '../counted/countedLabel';
import { recountRun } from '../counted/countRun';
import { showVersion } from '../counted/showVersion';
import { methodInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';
import { LEARN_JOB } from '../roadLoads/learnRoadLoad';
import { requestJudging } from './judgeAgain';
import { RebuildIncomplete, rebuildInputs } from './rebuildInputs';

/** Jobs of this kind bring all revisions under the versions in effect; their key names the one that made it necessary. */
export const RENORMALISE_JOB = 'renormalise';

const BATCH = 100;

type Revision = Awaited<ReturnType<typeof revisionsWithout>>[number];

/** Some revisions could not be computed; all others were. */
export class RenormalisationIncomplete extends Error {
  constructor(
    readonly done: number,
    readonly failures: readonly string[],
  ) {
    super(`${done} revisions recomputed, ${failures.length} could not be: ${failures.join(' ')}`);
    this.name = 'RenormalisationIncomplete';
  }
}

/** Asks for the recomputation where a revision has no result under the version in effect, or its world shows another. */
export async function requestRenormalisation(registry: Registry): Promise<boolean> {
  let isAsked = false;
  for (const world of WORLDS) {
    const { label } = await methodInEffect(registry.db, world);
    const missing = await revisionsWithout(registry.db, label, world, undefined, 1);
    const shown = await shownLabel(registry.db, world);
    if (missing.length === 0 && shown === label) continue;
    await enqueueJob(registry.db, RENORMALISE_JOB, label, registry.now());
    isAsked = true;
  }
  return isAsked;
}

/**
 * Normalises every revision that has no result under the version in effect in its world, from the inputs kept with it
 * and nothing else, and asks for all conclusions of that world anew. A revision from before inputs were kept has them
 * rebuilt first. Until the last is computed, the world shows its runs under the version before; then it moves at once.
 * Results under other versions and the findings that the run was judged by stay as they are. Broken off and started
 * again, it goes on where it was.
 */
export async function renormaliseAll(
  registry: Registry,
  report: (done: number, of: number) => void = () => undefined,
): Promise<number> {
  const failures: string[] = [];
  try {
    await rebuildInputs(registry);
  } catch (error) {
    if (!(error instanceof RebuildIncomplete)) throw error;
    // each of these is named below as well, if it needs a result
  }
  let of = 0;
  for (const world of WORLDS) {
    const { label } = await methodInEffect(registry.db, world);
    of += await countRevisionsWithout(registry.db, label, world);
  }
  let done = 0;
  for (const world of WORLDS) {
    done += await renormaliseWorld(registry, world, failures, (inWorld) => report(done + inWorld, of));
  }
  if (failures.length > 0) throw new RenormalisationIncomplete(done, failures);
  return done;
}

async function renormaliseWorld(
  registry: Registry,
  world: WorldKey,
  failures: string[],
  report: (done: number) => void,
): Promise<number> {
  let done = 0;
  let last: string | undefined;
  let inEffect = '';
  for (;;) {
    // asked again for each batch: a version adopted meanwhile makes the rest of this one's work idle
    const method = await methodInEffect(registry.db, world);
    if (method.label !== inEffect) last = undefined;
    inEffect = method.label;
    const batch = await revisionsWithout(registry.db, method.label, world, last, BATCH);
    for (const revision of batch) {
      last = revision.id;
      const problem = await renormalise(registry, revision, method);
      if (problem === undefined) done += 1;
      else failures.push(`run ${revision.run.number}, revision ${revision.number}: ${problem}`);
    }
    report(done);
    if (batch.length < BATCH) break;
  }
  const isMoved = await showVersion(registry, world, inEffect, (tx) =>
    concludeAnew(tx, world, registry.now()),
  );
  if (done > 0 && !isMoved) await registry.db.$transaction((tx) => concludeAnew(tx, world, registry.now()));
  return done;
}

async function renormalise(
  registry: Registry,
  { id, inputs, run }: Revision,
  method: Method,
): Promise<string | undefined> {
  if (inputs === null) return 'what it was made from is not there.';
  if (!inputs.ok) return `what it was made from cannot be read: ${inputs.message}`;
  const row = attempt(() => normalisationRow(reduceRun(inputs.snapshot, method)));
  if (typeof row === 'string') return row;
  await registry.db.$transaction(async (tx) => {
    await lockRuns(tx, [run.id]);
    await storeNormalisation(tx, id, row, registry.now());
    await recountRun(tx, run.id, method.label);
  });
  return undefined;
}

async function concludeAnew(db: Queryable, world: WorldKey, at: Date): Promise<void> {
  const methodVersion = await shownLabel(db, world);
  const { cruiseClassKeys, modelIds } = await countedSubjects(db, { world, methodVersion });
  for (const cruiseClassKey of cruiseClassKeys) {
    await enqueueJob(db, 'refit', comparisonGroupKey(cruiseClassKey, world), at);
  }
  for (const modelId of modelIds) {
    await enqueueJob(db, LEARN_JOB, modelId, at);
  }
  await requestJudging(db, world, at);
}

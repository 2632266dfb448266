import { loopDriving } from '@/lib/reduction/loopDriving';
import { runTrace } from '@/lib/reduction/runTrace';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { parseRunForm, runFormSchema } from '@/lib/run/parseRunForm';
import { enqueueJob } from '@/lib/store/jobs';
import { classesWithApprovedRuns, revisionsWithout, storeNormalisation } from '@/lib/store/normalisations';
import { modelsWithApprovedRuns } from '@/lib/store/roadLoads';
import { reductionSubjects } from '@/lib/store/runs';
import { loopRecordings } from '../loops/loopRecordings';
import { type MethodInEffect, methodInEffect } from '../method/methodInEffect';
import { comparisonGroupKey } from '../rankings/comparisonGroup';
import type { Registry } from '../registry';
import { LEARN_JOB } from '../roadLoads/learnRoadLoad';
import { storedTraceOf } from '../traces/storedTrace';
import { normaliseRecord, storedNormalisation } from './reduceRun';

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

const WORLDS = [false, true] as const;

/** Asks for the recomputation where a revision has no result under the version in effect in its world. */
export async function requestRenormalisation(registry: Registry): Promise<boolean> {
  let isAsked = false;
  for (const isDemo of WORLDS) {
    const { label } = await methodInEffect(registry.db, isDemo);
    const missing = await revisionsWithout(registry.db, label, isDemo, undefined, 1);
    if (missing.length === 0) continue;
    await enqueueJob(registry.db, RENORMALISE_JOB, label, registry.now());
    isAsked = true;
  }
  return isAsked;
}

/**
 * Normalises every revision that has no result under the version in effect in its world, from its form and recording as
 * submitted and what is known of its car, setup and loop today, and asks for all conclusions of that world anew.
 * Results under other versions and the findings that the run was judged by stay as they are. Broken off and started
 * again, it goes on where it was.
 */
export async function renormaliseAll(registry: Registry): Promise<number> {
  const failures: string[] = [];
  let done = 0;
  for (const isDemo of WORLDS) done += await renormaliseWorld(registry, isDemo, failures);
  if (failures.length > 0) throw new RenormalisationIncomplete(done, failures);
  return done;
}

async function renormaliseWorld(registry: Registry, isDemo: boolean, failures: string[]): Promise<number> {
  let done = 0;
  let last: string | undefined;
  let inEffect: string | undefined;
  for (;;) {
    // asked again for each batch: a version adopted meanwhile makes the rest of this one's work idle
    const method = await methodInEffect(registry.db, isDemo);
    if (method.label !== inEffect) last = undefined;
    inEffect = method.label;
    const batch = await revisionsWithout(registry.db, method.label, isDemo, last, BATCH);
    for (const revision of batch) {
      last = revision.id;
      const problem = await renormalise(registry, revision, method);
      if (problem === undefined) done += 1;
      else failures.push(`run ${revision.run.number}, revision ${revision.number}: ${problem}`);
    }
    if (batch.length < BATCH) break;
  }
  if (done > 0) await concludeAnew(registry, isDemo);
  return done;
}

async function renormalise(
  registry: Registry,
  revision: Revision,
  method: MethodInEffect,
): Promise<string | undefined> {
  const form = runFormSchema.safeParse(revision.form);
  if (!form.success) return 'its form is not one.';
  const parsed = parseRunForm(form.data, { now: revision.submittedAt.toISOString() });
  if (!parsed.ok) return parsed.issues.map((issue) => issue.what).join(' ');
  const { record } = parsed;
  const { car, setup, loop } = await reductionSubjects(registry.db, record);
  const cruiseClass = cruiseClassByKey(record.cruiseClassKey);
  if (car === null || setup === null || loop === null || cruiseClass === undefined) {
    return 'its car, setup, loop or class is not there.';
  }
  const { trace } = revision;
  const recording = trace === null ? undefined : runTrace(trace.id, storedTraceOf(trace.reduction), loop);
  const driving = recording
    ? undefined
    : loopDriving(await loopRecordings(registry, loop, revision.run.id), cruiseClass.speedMps);
  const normalisation = attempt(() =>
    storedNormalisation(
      normaliseRecord(record, { car, setup, loop, cruiseClass }, recording, method, driving),
    ),
  );
  if (typeof normalisation === 'string') return normalisation;
  await storeNormalisation(registry.db, revision.id, { normalisation }, registry.now());
  return undefined;
}

/** The engine refuses what its schema does: one such revision must not keep the others from their result. */
function attempt<Result>(compute: () => Result): Result | string {
  try {
    return compute();
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

async function concludeAnew(registry: Registry, isDemo: boolean): Promise<void> {
  const at = registry.now();
  for (const { cruiseClassKey } of await classesWithApprovedRuns(registry.db, isDemo)) {
    if (cruiseClassKey === null) continue;
    await enqueueJob(registry.db, 'refit', comparisonGroupKey(cruiseClassKey, isDemo), at);
  }
  for (const { id } of await modelsWithApprovedRuns(registry.db, isDemo)) {
    await enqueueJob(registry.db, LEARN_JOB, id, at);
  }
}

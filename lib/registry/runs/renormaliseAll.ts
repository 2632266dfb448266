import { parseRunForm, runFormSchema } from '@/lib/capture/parseRunForm';
import { cruiseClassByKey } from '@/lib/domain/cruiseClass';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { enqueueJob } from '@/lib/store/jobs';
import { groupsWithApprovedRuns, revisionsWithout, storeNormalisation } from '@/lib/store/normalisations';
import { modelsWithApprovedRuns } from '@/lib/store/roadLoads';
import { reductionSubjects } from '@/lib/store/runs';
import { comparisonGroupKey } from '../rankings/comparisonGroup';
import type { Registry } from '../registry';
import { LEARN_JOB } from '../roadLoads/learnRoadLoad';
import { storedTraceOf } from '../traces/storedTrace';
import { normaliseRecord, storedNormalisation } from './reduceRun';
import { runTrace } from './runTrace';

/** Jobs of this kind bring all revisions under the method version that their key names. */
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

/** Asks for the recomputation where a revision has no result under the method version of this engine. */
export async function requestRenormalisation(registry: Registry): Promise<boolean> {
  const missing = await revisionsWithout(registry.db, METHOD_VERSION, undefined, 1);
  if (missing.length === 0) return false;
  await enqueueJob(registry.db, RENORMALISE_JOB, METHOD_VERSION, registry.now());
  return true;
}

/**
 * Normalises every revision that has no result under the method version of this engine, from its form and recording as
 * submitted and what is known of its car, setup and loop today, and asks for all conclusions anew. Results under other versions and
 * the findings that the run was judged by stay as they are. Broken off and started again, it goes on where it was.
 */
export async function renormaliseAll(registry: Registry): Promise<number> {
  const failures: string[] = [];
  let done = 0;
  let last: string | undefined;
  for (;;) {
    const batch = await revisionsWithout(registry.db, METHOD_VERSION, last, BATCH);
    for (const revision of batch) {
      last = revision.id;
      const problem = await renormalise(registry, revision);
      if (problem === undefined) done += 1;
      else failures.push(`run ${revision.run.number}, revision ${revision.number}: ${problem}`);
    }
    if (batch.length < BATCH) break;
  }
  if (done > 0) await concludeAnew(registry);
  if (failures.length > 0) throw new RenormalisationIncomplete(done, failures);
  return done;
}

async function renormalise(registry: Registry, revision: Revision): Promise<string | undefined> {
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
  const normalisation = attempt(() =>
    storedNormalisation(normaliseRecord(record, { car, setup, loop, cruiseClass }, recording)),
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

async function concludeAnew(registry: Registry): Promise<void> {
  const at = registry.now();
  for (const { cruiseClassKey, isDemo } of await groupsWithApprovedRuns(registry.db)) {
    if (cruiseClassKey === null) continue;
    await enqueueJob(registry.db, 'refit', comparisonGroupKey(cruiseClassKey, isDemo), at);
  }
  for (const { id } of await modelsWithApprovedRuns(registry.db)) {
    await enqueueJob(registry.db, LEARN_JOB, id, at);
  }
}

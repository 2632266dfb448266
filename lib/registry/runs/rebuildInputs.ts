import { takeSnapshot } from '@/lib/reduction/takeSnapshot';
import { attempt } from '@/lib/run/attempt';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { parseRunForm, runFormSchema } from '@/lib/run/parseRunForm';
import { enqueueJob } from '@/lib/store/jobs';
import { reductionSubjects } from '@/lib/store/reductionSubjects';
import { revisionsWithoutInputs, storeInputs } from '@/lib/store/revisionInputs';
import type { Registry } from '../registry';
import { drivingOf } from './drivingOf';

/** Jobs of this kind give revisions from before inputs were kept a copy of what is known of them. */
export const REBUILD_INPUTS_JOB = 'rebuildInputs';

const BATCH = 100;

type Revision = Awaited<ReturnType<typeof revisionsWithoutInputs>>[number];

/** Some revisions could not be rebuilt; all others were. */
export class RebuildIncomplete extends Error {
  constructor(
    readonly done: number,
    readonly failures: readonly string[],
  ) {
    super(`inputs of ${done} revisions rebuilt, ${failures.length} could not be: ${failures.join(' ')}`);
    this.name = 'RebuildIncomplete';
  }
}

/** Asks for the rebuilding where a revision has no inputs. */
export async function requestRebuild(registry: Registry): Promise<boolean> {
  const [missing] = await revisionsWithoutInputs(registry.db, undefined, 1);
  if (missing === undefined) return false;
  await enqueueJob(registry.db, REBUILD_INPUTS_JOB, 'all', registry.now());
  return true;
}

/**
 * Rebuilds, once, the inputs of revisions that were submitted before inputs were kept: from the form and recording as
 * submitted and from what is known today of car, setup and loop. They are marked as reconstructed. Broken off and
 * started again, it goes on where it was.
 */
export async function rebuildInputs(
  registry: Registry,
  report: (done: number) => void = () => undefined,
): Promise<number> {
  const failures: string[] = [];
  let done = 0;
  let last: string | undefined;
  for (;;) {
    const batch = await revisionsWithoutInputs(registry.db, last, BATCH);
    for (const revision of batch) {
      last = revision.id;
      const problem = await rebuild(registry, revision);
      if (problem === undefined) done += 1;
      else failures.push(`run ${revision.run.number}, revision ${revision.number}: ${problem}`);
    }
    report(done);
    if (batch.length < BATCH) break;
  }
  if (failures.length > 0) throw new RebuildIncomplete(done, failures);
  return done;
}

/** What kept a revision from being rebuilt; undefined when nothing did. */
async function rebuild(registry: Registry, revision: Revision): Promise<string | undefined> {
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
  if (trace !== null && trace.stored === undefined) return 'its recording cannot be read.';
  const recording = trace?.stored && { traceId: trace.id, stored: trace.stored };
  const driving = recording ? undefined : await drivingOf(registry, { loop, cruiseClass }, revision.run.id);
  const snapshot = attempt(() => takeSnapshot(record, { car, setup, loop, cruiseClass }, recording, driving));
  if (typeof snapshot === 'string') return snapshot;
  const inputs = { snapshot, origin: 'reconstructed', takenAt: registry.now() } as const;
  await registry.db.$transaction((tx) => storeInputs(tx, revision.id, inputs));
  return undefined;
}

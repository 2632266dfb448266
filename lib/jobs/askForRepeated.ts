import type { Queryable } from '@/lib/store/database';
import { enqueueJob, latestJob } from '@/lib/store/jobs';

/** Work that is due by itself, `everyMs` after it was last asked for. */
export interface RepeatedJob {
  kind: string;
  key: string;
  everyMs: number;
  /** How long the very first one waits: what a registry that was just started can do without. */
  firstAfterMs?: number;
}

/** Asks for the work that is due. When it was last asked for stands in the queue itself, so restarts ask no more often. */
export async function askForRepeated(
  db: Queryable,
  repeated: readonly RepeatedJob[],
  now: Date,
): Promise<void> {
  for (const { kind, key, everyMs, firstAfterMs = 0 } of repeated) {
    const last = await latestJob(db, kind, key);
    if (last === null) await enqueueJob(db, kind, key, new Date(now.getTime() + firstAfterMs));
    else if (last.queuedAt.getTime() + everyMs <= now.getTime()) await enqueueJob(db, kind, key, now);
  }
}

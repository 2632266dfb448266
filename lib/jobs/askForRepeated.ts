import type { Queryable } from '@/lib/store/database';
import { enqueueJob, latestJob } from '@/lib/store/jobs';

/** Work that is due by itself, `everyMs` after it was last asked for. */
export interface RepeatedJob {
  kind: string;
  key: string;
  everyMs: number;
}

/** Asks for the work that is due. When it was last asked for stands in the queue itself, so restarts ask no more often. */
export async function askForRepeated(
  db: Queryable,
  repeated: readonly RepeatedJob[],
  now: Date,
): Promise<void> {
  for (const { kind, key, everyMs } of repeated) {
    const last = await latestJob(db, kind, key);
    if (last === null || last.queuedAt.getTime() + everyMs <= now.getTime()) {
      await enqueueJob(db, kind, key, now);
    }
  }
}

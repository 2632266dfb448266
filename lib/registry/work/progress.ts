import { z } from 'zod';
import type { Queryable } from '@/lib/store/database';
import { latestProgress } from '@/lib/store/jobs';

/** How far a piece of background work is. */
export interface WorkProgress {
  state: 'waiting' | 'running' | 'done' | 'failed';
  /** Null while nothing was counted. */
  done: number | null;
  of: number | null;
  /** Why it failed, the last time. */
  error: string | null;
}

const counts = z.object({ done: z.number(), of: z.number().nullable() });

const STATES = { queued: 'waiting', running: 'running', done: 'done', failed: 'failed' } as const;

/** Of the newest job of a kind about one thing; null where there never was one. */
export async function progressOfJob(db: Queryable, kind: string, key: string): Promise<WorkProgress | null> {
  const job = await latestProgress(db, kind, key);
  if (job === null) return null;
  const counted = counts.safeParse(job.progress).data;
  return {
    state: STATES[job.state],
    done: counted?.done ?? null,
    of: counted?.of ?? null,
    error: job.error,
  };
}

import type { Database } from '@/lib/store/database';
import type { ClaimedJob } from '@/lib/store/jobs';
import {
  abandonedJobs,
  claimNextJob,
  enqueueJob,
  failJob,
  finishJob,
  requeueAbandonedJobs,
} from '@/lib/store/jobs';
import type { RepeatedJob } from './askForRepeated';

/** What a job of a kind does; throwing marks it failed. */
export type JobHandler = (key: string) => Promise<void>;
export type JobHandlers = Readonly<Record<string, JobHandler>>;

export interface JobRunner {
  db: Database;
  handlers: JobHandlers;
  now: () => Date;
  /** Work that nobody asks for and that is due at intervals. */
  repeated?: readonly RepeatedJob[];
}

const MOST_ATTEMPTS = 3;
const ABANDONED_AFTER_MS = 10 * 60 * 1000;

/** Runs waiting jobs one after the other until none is due; returns how many were run. */
export async function runPendingJobs(runner: JobRunner): Promise<number> {
  let count = 0;
  for (;;) {
    const job = await claimNextJob(runner.db, runner.now());
    if (job === undefined) return count;
    await runJob(runner, job);
    count += 1;
  }
}

async function runJob(runner: JobRunner, job: ClaimedJob): Promise<void> {
  const handler = runner.handlers[job.kind];
  try {
    if (handler === undefined) throw new Error(`no handler for jobs of kind ${job.kind}`);
    await handler(job.key);
    await finishJob(runner.db, job.id, runner.now());
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    await failJob(runner.db, job.id, runner.now(), message);
    if (job.attempts < MOST_ATTEMPTS && handler !== undefined) {
      // A fresh row carries the next try, so that the failed one stays readable; it waits longer each time.
      const delayMs = 1000 * 4 ** job.attempts;
      await enqueueRetry(runner, job, new Date(runner.now().getTime() + delayMs), message);
    }
  }
}

/** The next try says what became of the last one, so that a page can. */
async function enqueueRetry(runner: JobRunner, job: ClaimedJob, at: Date, error: string): Promise<void> {
  await enqueueJob(runner.db, job.kind, job.key, at);
  await runner.db.job.updateMany({
    where: { kind: job.kind, key: job.key, state: 'queued' },
    data: { attempts: job.attempts, error },
  });
}

/** Jobs that a dead process left behind are asked for again. */
export async function recoverAbandonedJobs(runner: JobRunner): Promise<void> {
  const before = new Date(runner.now().getTime() - ABANDONED_AFTER_MS);
  const abandoned = await abandonedJobs(runner.db, before);
  await requeueAbandonedJobs(runner.db, before);
  for (const job of abandoned) await enqueueJob(runner.db, job.kind, job.key, runner.now());
}

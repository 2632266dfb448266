import { randomBytes } from 'node:crypto';
import { hostname } from 'node:os';
import { inAThread } from '@/lib/jobs/inAThread';
import { inThisThread } from '@/lib/jobs/jobPlace';
import { type JobPoll, pollJobs } from '@/lib/jobs/pollJobs';
import { runPendingJobs } from '@/lib/jobs/runPendingJobs';
import { jobHandlers, REPEATED_JOBS } from './jobHandlers';
import type { Registry } from './registry';

/** Does all the work that waits, now and in this thread: for commands and tests. */
export function runJobsNow(registry: Registry): Promise<number> {
  return runPendingJobs({
    db: registry.db,
    place: inThisThread((attempt) => jobHandlers(registry, attempt)),
    now: registry.now,
    workerId: newWorkerId(),
  });
}

/** Does work as it comes, until stopped; the computing is done in a thread of its own (jobThread.ts). */
export function startWorker(registry: Registry, report: (error: unknown) => void): JobPoll {
  const place = inAThread(new URL('./jobThread.ts', import.meta.url));
  const runner = {
    db: registry.db,
    place,
    now: registry.now,
    workerId: newWorkerId(),
    repeated: REPEATED_JOBS,
  };
  return pollJobs(runner, 1000, report);
}

/** For people who look at the queue: which machine and process has a job. */
function newWorkerId(): string {
  return `${hostname()}/${process.pid}/${randomBytes(4).toString('hex')}`;
}

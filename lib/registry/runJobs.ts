import { type JobPoll, pollJobs } from '@/lib/jobs/pollJobs';
import { runPendingJobs } from '@/lib/jobs/runPendingJobs';
import { jobHandlers, REPEATED_JOBS } from './jobHandlers';
import type { Registry } from './registry';

/** Does all the work that waits, now and in this process: for commands and tests. */
export function runJobsNow(registry: Registry): Promise<number> {
  return runPendingJobs({ db: registry.db, handlers: jobHandlers(registry), now: registry.now });
}

/** Does work as it comes, until stopped: for the process that `npm start` keeps beside the web server. */
export function startWorker(registry: Registry, report: (error: unknown) => void): JobPoll {
  const handlers = jobHandlers(registry);
  return pollJobs({ db: registry.db, handlers, now: registry.now, repeated: REPEATED_JOBS }, 1000, report);
}

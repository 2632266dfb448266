import { type ClaimedJob, claimNextJob, failJob, finishJob } from '@/lib/store/jobs';
import { keepLease } from './heartbeat';
import { NoHandler } from './jobPlace';
import type { JobRunner } from './jobRunner';
import { LEASE_MS, LeaseLost } from './lease';

/** Attempts that end with an error. */
const MOST_ATTEMPTS = 3;

/** Runs waiting jobs one after the other until none is due; returns how many were run. */
export async function runPendingJobs(runner: JobRunner): Promise<number> {
  let count = 0;
  while (!runner.isStopped?.()) {
    const now = runner.now();
    const leaseUntil = new Date(now.getTime() + (runner.leaseMs ?? LEASE_MS));
    const job = await claimNextJob(runner.db, { workerId: runner.workerId, now, leaseUntil });
    if (job === undefined) return count;
    await runJob(runner, job);
    count += 1;
  }
  return count;
}

async function runJob(runner: JobRunner, job: ClaimedJob): Promise<void> {
  const held = keepLease(runner, job);
  try {
    await runner.place.run({ job, signal: held.signal, report: held.report });
    await finishJob(runner.db, job, runner.now());
  } catch (error) {
    // Another worker has it, or will find it: there is nothing left to say about it here.
    if (held.isLost() || error instanceof LeaseLost) return;
    await failJob(runner.db, job, failureOf(runner, job, error));
  } finally {
    held.letGo();
  }
}

function failureOf(runner: JobRunner, { attempt }: ClaimedJob, error: unknown) {
  const at = runner.now();
  if (runner.stopping?.aborted) {
    // Given back, and not counted: the next start goes on with it at once.
    return { at, error: 'the server was stopped', next: { at, attempts: attempt - 1 } };
  }
  const message = error instanceof Error ? error.message : String(error);
  const isLast = attempt >= MOST_ATTEMPTS || error instanceof NoHandler;
  // It waits longer each time.
  const next = isLast ? undefined : { at: new Date(at.getTime() + 1000 * 4 ** attempt), attempts: attempt };
  return { at, error: message, next };
}

import { type ClaimedJob, type JobProgress, renewLease } from '@/lib/store/jobs';
import type { JobRunner } from './jobRunner';
import { HEARTBEAT_MS, LEASE_MS } from './lease';

export interface HeldJob {
  /** Aborted when the job turns out to be another worker's, or this worker stops. */
  readonly signal: AbortSignal;
  readonly report: (progress: JobProgress) => void;
  readonly isLost: () => boolean;
  readonly letGo: () => void;
}

/**
 * Renews the lease of a job in hand until it is let go. A database that does not answer is asked again at the next beat:
 * only an answer that the job is another's ends the work, and no lost lease can write in between.
 */
export function keepLease(runner: JobRunner, job: ClaimedJob): HeldJob {
  const { db, now, leaseMs = LEASE_MS, heartbeatMs = HEARTBEAT_MS, stopping } = runner;
  const control = new AbortController();
  let isLost = false;
  let isBeating = false;
  let progress: JobProgress | undefined;
  const beat = async () => {
    if (isBeating) return;
    isBeating = true;
    try {
      const isHeld = await renewLease(db, job, new Date(now().getTime() + leaseMs), progress);
      if (!isHeld && !control.signal.aborted) {
        isLost = true;
        control.abort(new Error('the lease is lost'));
      }
    } catch {
      // The database is away; the job is looked after again when it is back.
    } finally {
      isBeating = false;
    }
  };
  const timer = setInterval(beat, heartbeatMs);
  const stop = () => control.abort(new Error('the worker stops'));
  stopping?.addEventListener('abort', stop, { once: true });
  return {
    signal: control.signal,
    report: (next) => {
      progress = next;
    },
    isLost: () => isLost,
    letGo: () => {
      clearInterval(timer);
      stopping?.removeEventListener('abort', stop);
    },
  };
}

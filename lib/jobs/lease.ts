import type { Database, Queryable } from '@/lib/store/database';
import { holdsLease, type Lease } from '@/lib/store/jobs';

/** How long a job is held without a sign of life from its worker. Own judgement: a restart takes a few seconds. */
export const LEASE_MS = 30_000;
/** Six heartbeats a lease: five may be missed, so that a database that restarts loses no job. */
export const HEARTBEAT_MS = 5_000;

/** The job is another worker's by now: whatever this one has in hand is not written. */
export class LeaseLost extends Error {
  override readonly name = 'LeaseLost';

  constructor({ jobId, attempt }: Lease) {
    super(`attempt ${attempt} at job ${jobId} is no longer held: nothing of it is written`);
  }
}

/**
 * The database as a job writes to it: each transaction first asks whether the job is still this attempt's, and holds it
 * so until it ends. A worker that slept through its lease therefore writes nothing. Jobs write in transactions only.
 */
export function underLease(db: Database, lease: Lease): Database {
  type Work = (tx: Queryable) => Promise<unknown>;
  const transaction = (work: Work, options?: object) =>
    db.$transaction(async (tx) => {
      if (!(await holdsLease(tx, lease))) throw new LeaseLost(lease);
      return work(tx);
    }, options);
  return new Proxy(db, {
    get: (target, name) => (name === '$transaction' ? transaction : Reflect.get(target, name, target)),
  });
}

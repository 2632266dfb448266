import type { Database } from '@/lib/store/database';
import type { RepeatedJob } from './askForRepeated';
import type { JobPlace } from './jobPlace';

/** What a worker works with. */
export interface JobRunner {
  db: Database;
  place: JobPlace;
  now: () => Date;
  workerId: string;
  /** Work that nobody asks for and that is due at intervals. */
  repeated?: readonly RepeatedJob[];
  /** True when no further job is to be taken. */
  isStopped?: () => boolean;
  /** Aborted when what is in hand cannot be waited for: it is given back. */
  stopping?: AbortSignal;
  /** Milliseconds; for tests. */
  leaseMs?: number;
  heartbeatMs?: number;
}

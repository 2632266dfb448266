import type { ClaimedJob, JobProgress } from '@/lib/store/jobs';

/** What a job of a kind does; throwing marks the attempt failed. */
export type JobHandler = (key: string) => Promise<void>;
/** What an attempt can do: bound to its lease, so that its writes are under it. */
export type JobHandlers = ReadonlyMap<string, JobHandler>;

export interface Attempt {
  job: ClaimedJob;
  /** Aborted when the job is no longer held, or the worker stops. */
  signal: AbortSignal;
  report: (progress: JobProgress) => void;
}

/** Where the work of a job is done: in this thread, or in one of its own that can be ended from outside. */
export interface JobPlace {
  run(attempt: Attempt): Promise<void>;
  close(): Promise<void>;
}

/** Work in this thread. An abort is seen at the next writing transaction, which the lease refuses. */
export function inThisThread(handlersOf: (attempt: Attempt) => JobHandlers): JobPlace {
  return {
    async run(attempt) {
      const { kind, key } = attempt.job;
      const handler = handlersOf(attempt).get(kind);
      if (handler === undefined) throw new NoHandler(kind);
      await handler(key);
    },
    async close() {},
  };
}

/** Trying again would not help. */
export class NoHandler extends Error {
  override readonly name = 'NoHandler';

  constructor(kind: string) {
    super(`no handler for jobs of kind ${kind}`);
  }
}

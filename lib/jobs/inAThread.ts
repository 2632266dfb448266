import { Worker } from 'node:worker_threads';
import type { ClaimedJob, JobProgress } from '@/lib/store/jobs';
import { type Attempt, type JobPlace, NoHandler } from './jobPlace';
import { LeaseLost } from './lease';

/** What goes to the thread: one job at a time, or the word that there will be no more. */
export type ToThread = { do: ClaimedJob } | { close: true };

/** What comes back. */
export type FromThread =
  | { progress: JobProgress }
  | { done: true }
  | { failed: { name: string; message: string } };

/**
 * Work in a thread of its own, made at the first job and kept: however long it computes, the heartbeat beside it goes
 * on, and an attempt that is no longer wanted is ended where it stands. The entry calls `serveJobs`.
 */
export function inAThread(entry: URL): JobPlace {
  let thread: Worker | undefined;
  const open = (): Worker => {
    const opened = new Worker(new URL('./typescriptThread.mjs', import.meta.url), {
      execArgv: [],
      workerData: { entry: entry.href },
    });
    opened.once('exit', () => {
      if (thread === opened) thread = undefined;
    });
    return opened;
  };
  return {
    run(attempt) {
      thread ??= open();
      return runIn(thread, attempt);
    },
    async close() {
      const closing = thread;
      if (closing === undefined) return;
      const gone = new Promise<void>((resolve) => closing.once('exit', () => resolve()));
      closing.postMessage({ close: true } satisfies ToThread);
      const patience = setTimeout(() => void closing.terminate(), 2_000);
      await gone;
      clearTimeout(patience);
    },
  };
}

function runIn(thread: Worker, { job, signal, report }: Attempt): Promise<void> {
  return new Promise((resolve, reject) => {
    const settle = (end: () => void) => {
      thread.off('message', hear);
      thread.off('error', fail);
      thread.off('exit', leave);
      signal.removeEventListener('abort', abort);
      end();
    };
    const hear = (message: FromThread) => {
      if ('progress' in message) report(message.progress);
      else if ('done' in message) settle(resolve);
      else settle(() => reject(errorOf(job, message.failed)));
    };
    const fail = (error: unknown) => settle(() => reject(error));
    const leave = () => settle(() => reject(new Error('the thread of the job ended')));
    const abort = () => {
      settle(() => undefined);
      // Its connections close with it, and what it had not committed is undone.
      thread.terminate().then(
        () => reject(signal.reason),
        (error: unknown) => reject(error),
      );
    };
    thread.on('message', hear);
    thread.once('error', fail);
    thread.once('exit', leave);
    signal.addEventListener('abort', abort, { once: true });
    if (signal.aborted) abort();
    else thread.postMessage({ do: job } satisfies ToThread);
  });
}

/** Classes do not cross between threads; those that are told apart are made anew. */
function errorOf(job: ClaimedJob, { name, message }: { name: string; message: string }): Error {
  if (name === 'LeaseLost') return new LeaseLost(job);
  if (name === 'NoHandler') return new NoHandler(job.kind);
  return new Error(message);
}

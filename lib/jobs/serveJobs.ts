import { parentPort } from 'node:worker_threads';
import type { FromThread, ToThread } from './inAThread';
import type { Attempt } from './jobPlace';
import { inThisThread, type JobHandlers } from './jobPlace';

/** The other end of `inAThread`: does the jobs that are sent, one at a time, until told to close. */
export function serveJobs(handlersOf: (attempt: Attempt) => JobHandlers, close: () => Promise<void>): void {
  const port = parentPort;
  if (port === null) throw new Error('This is the entry of a thread.');
  const send = (message: FromThread) => port.postMessage(message);
  const place = inThisThread(handlersOf);
  port.on('message', async (message: ToThread) => {
    if ('close' in message) {
      await close();
      port.close();
      return;
    }
    try {
      // Nothing is to be listened to: an unwanted attempt ends with its thread.
      const { signal } = new AbortController();
      await place.run({ job: message.do, signal, report: (progress) => send({ progress }) });
      send({ done: true });
    } catch (error) {
      const { name, message: said } = error instanceof Error ? error : new Error(String(error));
      send({ failed: { name, message: said } });
    }
  });
}

import { askForRepeated } from './askForRepeated';
import { type JobRunner, recoverAbandonedJobs, runPendingJobs } from './runPendingJobs';

export interface JobPoll {
  /** Stops asking for work and waits for the job at hand. */
  stop(): Promise<void>;
}

/** How often the queue is asked whether repeated work is due. */
const ASK_EVERY_MS = 10 * 60 * 1000;

/** Looks for due jobs every `everyMs` until stopped; a failing look is reported and tried again. */
export function pollJobs(runner: JobRunner, everyMs: number, report: (error: unknown) => void): JobPoll {
  let isStopped = false;
  let timer: NodeJS.Timeout | undefined;
  let current: Promise<void> = Promise.resolve();
  let askedAtMs = Number.NEGATIVE_INFINITY;

  const askIfDue = async ({ db, repeated = [], now }: JobRunner) => {
    const at = now();
    if (at.getTime() - askedAtMs < ASK_EVERY_MS) return;
    await askForRepeated(db, repeated, at);
    askedAtMs = at.getTime();
  };
  const look = async () => {
    try {
      await askIfDue(runner);
      await runPendingJobs(runner);
    } catch (error) {
      report(error);
    }
    if (!isStopped) {
      timer = setTimeout(() => {
        current = look();
      }, everyMs);
    }
  };
  current = recoverAbandonedJobs(runner).then(look, (error: unknown) => {
    report(error);
    return look();
  });
  return {
    async stop() {
      isStopped = true;
      clearTimeout(timer);
      await current;
    },
  };
}

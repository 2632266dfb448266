import { type JobRunner, recoverAbandonedJobs, runPendingJobs } from './runPendingJobs';

export interface JobPoll {
  /** Stops asking for work and waits for the job at hand. */
  stop(): Promise<void>;
}

/** Looks for due jobs every `everyMs` until stopped; a failing look is reported and tried again. */
export function pollJobs(runner: JobRunner, everyMs: number, report: (error: unknown) => void): JobPoll {
  let isStopped = false;
  let timer: NodeJS.Timeout | undefined;
  let current: Promise<void> = Promise.resolve();

  const look = async () => {
    try {
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

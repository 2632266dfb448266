import { recoverLostJobs } from '@/lib/store/jobs';
import { signOfLife } from '@/lib/store/workers';
import { askForRepeated } from './askForRepeated';
import type { JobRunner } from './jobRunner';
import { HEARTBEAT_MS } from './lease';
import { runPendingJobs } from './runPendingJobs';

export interface JobPoll {
  /** Stops asking for work, and waits for the job at hand for a while before it is given back. */
  stop(): Promise<void>;
}

/** How often the queue is asked whether repeated work is due. */
const ASK_EVERY_MS = 10 * 60 * 1000;
/** How long a job in hand may go on when the worker is to stop. */
const STOPPING_MS = 5_000;
/** A job whose worker died that often is left alone: it may be what kills them. */
const MOST_LOST_ATTEMPTS = 8;

/**
 * Looks for due jobs every `everyMs` until stopped, after taking up what other workers (or this one, before it lost its
 * database) left behind. A look that fails is reported and tried again, so that the database may come and go.
 */
export function pollJobs(
  runner: JobRunner,
  everyMs: number,
  report: (error: unknown) => void,
  stoppingMs = STOPPING_MS,
): JobPoll {
  const stopping = new AbortController();
  const stoppable = { ...runner, stopping: stopping.signal };
  let isStopped = false;
  let timer: NodeJS.Timeout | undefined;
  let askedAtMs = Number.NEGATIVE_INFINITY;

  const askIfDue = async ({ db, repeated = [], now }: JobRunner) => {
    const at = now();
    if (at.getTime() - askedAtMs < ASK_EVERY_MS) return;
    await askForRepeated(db, repeated, at);
    askedAtMs = at.getTime();
  };
  const look = async () => {
    try {
      await recoverLostJobs(runner.db, runner.now(), MOST_LOST_ATTEMPTS);
      await askIfDue(runner);
      await runPendingJobs({ ...stoppable, isStopped: () => isStopped });
    } catch (error) {
      report(error);
    }
    if (!isStopped) {
      timer = setTimeout(() => {
        current = look();
      }, everyMs);
    }
  };
  const startedAt = runner.now();
  const live = () => signOfLife(runner.db, { id: runner.workerId, startedAt }, runner.now()).catch(report);
  void live();
  const living = setInterval(live, HEARTBEAT_MS);
  let current = look();
  return {
    async stop() {
      isStopped = true;
      clearTimeout(timer);
      const patience = setTimeout(() => stopping.abort(), stoppingMs);
      await current;
      clearTimeout(patience);
      clearInterval(living);
      await runner.place.close();
    },
  };
}

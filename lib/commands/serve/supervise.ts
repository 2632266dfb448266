import { setTimeout as delay } from 'node:timers/promises';
import type { RunningChild } from './childProcess';

export interface SupervisedPart {
  name: string;
  start: () => RunningChild;
  /** Asked at intervals: a part that says no (or nothing in time) several times on end is ended and started again. */
  isWell?: () => Promise<boolean>;
  say: (words: string) => void;
  /** Milliseconds; for tests. */
  times?: Partial<typeof TIMES>;
}

export interface Supervision {
  /** The process that runs at the moment. */
  readonly current: () => RunningChild;
  readonly stop: () => Promise<void>;
}

const TIMES = {
  /** Before the first restart; doubled with each that follows soon after. */
  shortestDelayMs: 500,
  longestDelayMs: 30_000,
  /** A part that ran for that long has recovered: the next restart comes soon again. */
  steadyMs: 60_000,
  /** Between two questions whether it is well. */
  askEveryMs: 5_000,
};
/** Unwell so often on end, it is ended: with five seconds between questions, and as long for each, 20 to 40 seconds. */
const MOST_UNWELL = 4;

/** How long to wait before a restart, after so many that came soon one after the other. */
export function restartDelayMs(soon: number, { shortestDelayMs, longestDelayMs } = TIMES): number {
  return Math.min(longestDelayMs, shortestDelayMs * 2 ** soon);
}

/** Keeps a part running: started again whenever it ends, with a growing delay, until stopped. */
export function supervise(part: SupervisedPart): Supervision {
  const times = { ...TIMES, ...part.times };
  const stopping = new AbortController();
  let child = part.start();
  const keeping = keep();

  async function keep(): Promise<void> {
    for (let soon = 0; ; ) {
      const startedMs = performance.now();
      const watching = watch(child);
      const how = await child.ended;
      watching.abort();
      if (stopping.signal.aborted) return;
      if (performance.now() - startedMs >= times.steadyMs) soon = 0;
      const waitMs = restartDelayMs(soon, times);
      part.say(`The ${part.name} ended (${how}); it is started again in ${waitMs / 1000} s.`);
      soon += 1;
      await delay(waitMs, undefined, { signal: stopping.signal }).catch(() => undefined);
      if (stopping.signal.aborted) return;
      child = part.start();
    }
  }

  function watch(watched: RunningChild): AbortController {
    const control = new AbortController();
    if (part.isWell) void askUntil(control.signal, part.isWell, watched);
    return control;
  }

  async function askUntil(signal: AbortSignal, isWell: () => Promise<boolean>, watched: RunningChild) {
    for (let unwell = 0; !signal.aborted && !stopping.signal.aborted; ) {
      await delay(times.askEveryMs, undefined, { signal }).catch(() => undefined);
      if (signal.aborted || stopping.signal.aborted) return;
      unwell = (await isWell()) ? 0 : unwell + 1;
      if (unwell < MOST_UNWELL || signal.aborted || stopping.signal.aborted) continue;
      part.say(`The ${part.name} does not answer any more and is ended.`);
      // It may not hear anything milder.
      watched.kill();
      return;
    }
  }

  return {
    current: () => child,
    async stop() {
      stopping.abort();
      await child.stop();
      await keeping;
    },
  };
}

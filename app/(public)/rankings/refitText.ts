import type { RankingView } from '@/lib/registry/rankings/rankings';
import { wallClockWords } from '@/lib/run/localDate';

/** By UTC, which the section says of all its times. */
export function utcText(at: Date): string {
  return wallClockWords(at.getTime(), 0);
}

/** Where the newest refit of a class stands, for every reader. */
export function refitText(refit: RankingView['refit']): string {
  if (refit === null) return 'none on record';
  const { state, queuedAt, runAfter, startedAt, finishedAt, attempts, error } = refit;
  switch (state) {
    case 'queued':
      return attempts === 0
        ? `waiting since ${utcText(queuedAt)}`
        : `failed ${attempts === 1 ? 'once' : `${attempts} times`} (${error ?? 'no reason given'}), tried again from ${utcText(runAfter)}`;
    case 'running':
      return `running since ${utcText(startedAt ?? queuedAt)}`;
    case 'done':
      return `finished ${utcText(finishedAt ?? queuedAt)}`;
    case 'failed':
      return `failed at ${utcText(finishedAt ?? queuedAt)}: ${error ?? 'no reason given'}`;
  }
}

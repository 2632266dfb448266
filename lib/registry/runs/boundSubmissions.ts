import { ALLOWANCE_WINDOW_S, dailyAllowance, nextSubmissionAt } from '@/lib/run/allowance';
import { TooSoon } from '@/lib/run/errors';
import type { Queryable } from '@/lib/store/database';
import { countApprovedRuns, submissionsSince } from '@/lib/store/submissions';

/**
 * In the transaction of a run's first submission: refused where the day's allowance is used up. The draft stays as it
 * is; of an import the first run counts and the others go with it.
 */
export async function boundSubmissions(
  tx: Queryable,
  run: { id: string; testerId: string },
  now: Date,
): Promise<void> {
  const since = new Date(now.getTime() - 1000 * ALLOWANCE_WINDOW_S);
  const of = { testerId: run.testerId, runId: run.id, since };
  const { sentAt, isOfBegunImport } = await submissionsSince(tx, of);
  if (isOfBegunImport) return;
  const approved = await countApprovedRuns(tx, run.testerId);
  const next = nextSubmissionAt(sentAt, approved);
  if (next === undefined || next <= now) return;
  const allowed = dailyAllowance(approved);
  throw new TooSoon(Math.ceil((next.getTime() - now.getTime()) / 1000), {
    path: '',
    what: `You have sent in ${allowed} runs within a day, as many as you may for now.`,
    why: 'Every run is read by a person, so that a day has a limit: it grows by one with each run of yours that is approved. An import counts as one, and drafts do not count.',
    fix: `The draft is kept. Send it after ${next.toISOString().slice(11, 16)} UTC.`,
  });
}

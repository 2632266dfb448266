import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { Conflict } from '@/lib/run/errors';
import { MANY_ACTS, type ManyAct } from '@/lib/run/manyActs';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { lockRuns } from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { type ManyRow, manyRunsByNumber } from '@/lib/store/manyRuns';
import { runState } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { retractInside } from '../runs/retractRun';
import { tellStudyOwners } from '../studies/tellOfStudy';
import { endHold, placeHold } from './holdRun';
import { MOST_AT_ONCE, refusalOf, seenOf } from './manyRuns';

/** A hundred runs with their trails, notices and jobs take some seconds. */
const PATIENT = { timeout: 120_000, maxWait: 10_000 };

const actSchema = z.object({
  act: z.enum(MANY_ACTS),
  /** What was seen of each run. */
  seen: z
    .array(z.string().regex(/^\d{1,9}\.[A-Za-z]+\.(held|free)\.\d{1,9}$/))
    .min(1, 'No run is chosen. | There is nothing to do. | Choose some of the list.')
    .max(
      MOST_AT_ONCE,
      `These are too many runs. | They are changed together. | Choose at most ${MOST_AT_ONCE}.`,
    ),
  reason: z
    .string()
    .trim()
    .min(
      10,
      'The reason is too short. | It stays beside each of the runs for every reader. | Say what it is.',
    )
    .max(2000),
});

export interface ManyDone {
  done: number[];
  /** Changed since they were looked at, or not this person’s to change. */
  refused: { number: number; why: string }[];
}

/**
 * Holds, frees or retracts runs together with one reason, in one transaction. Each run's own trail has it, and its tester
 * is told. A run that is no longer as it was seen is left as it is and named; the others are done.
 */
export async function actOnManyRuns(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<ManyDone> {
  authorise(actor, 'actOnManyRuns');
  requireFresh(actor, registry.now());
  const { act, seen, reason } = parseInput(actSchema, input);
  const seenOfNumber = new Map(seen.map((one) => [Number(one.split('.')[0]), one]));
  const numbers = [...seenOfNumber.keys()];
  return registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const found = await manyRunsByNumber(tx, numbers);
    await lockRuns(
      tx,
      found.map(({ id }) => id),
    );
    // Read again under the lock: what is decided on meanwhile is seen.
    const rows = await manyRunsByNumber(tx, numbers);
    const doneIds: string[] = [];
    const outcome: ManyDone = {
      done: [],
      refused: numbers
        .filter((number) => !rows.some((row) => row.number === number))
        .map((number) => ({ number, why: 'there is no such run' })),
    };
    for (const row of rows) {
      const isAsSeen = seenOf(row) === seenOfNumber.get(row.number);
      const why = isAsSeen ? refusalOf(actor, act, row) : 'changed since you looked';
      if (why !== undefined) outcome.refused.push({ number: row.number, why });
      else {
        await actOnOne(tx, row, { act, reason, by: actor.accountId }, at);
        outcome.done.push(row.number);
        doneIds.push(row.id);
      }
    }
    if (outcome.done.length === 0) return outcome;
    if (act === 'retract') await tellStudyOwners(tx, doneIds, act, { accountId: actor.accountId, at });
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'runs.actOnMany',
      subjectKind: 'list',
      subjectId: 'runs',
      details: { act, runs: outcome.done, left: outcome.refused.map(({ number }) => number), reason },
    });
    return outcome;
  }, PATIENT);
}

async function actOnOne(
  tx: Queryable,
  { id, number }: ManyRow,
  { act, reason, by }: { act: ManyAct; reason: string; by: string },
  at: Date,
): Promise<void> {
  const run = await runState(tx, id);
  if (run === null) throw new Conflict(`Run ${number} is gone.`);
  const isDone =
    act === 'retract'
      ? await retractInside(tx, run, { reason, byId: by }, at)
      : act === 'lift'
        ? await endHold(tx, run, { reason, by }, at)
        : await placeHold(tx, run, { kind: 'looking', reason, placedById: by }, at);
  // It was judged under its lock a moment ago.
  if (!isDone)
    throw new Conflict(`Run ${number} was changed at the same moment. Nothing was done: try again.`);
}

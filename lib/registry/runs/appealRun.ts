import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { statusesAllowing } from '@/lib/run/runStatus';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { insertAppeal, moveRun, runState } from '@/lib/store/runs';
import type { Registry } from '../registry';

const appealSchema = z.object({
  runId: z.uuid(),
  words: z
    .string()
    .trim()
    .min(
      20,
      'The appeal is too short. | Another reviewer has to see what the first one overlooked. | Say what it was, in a sentence or two.',
    )
    .max(
      2000,
      'The appeal is too long. | It stands beside the decision for reviewers. | Keep it under 2000 characters.',
    ),
});

/** Puts a rejected run before another reviewer, once a revision: the rejection and the words both stay in its trail. */
export async function appealRun(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  const { runId, words } = parseInput(appealSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'appealRun', run.testerId);
  const revision = run.revisions[0];
  if (revision === undefined) throw notRejected();
  const round = run.round + 1;
  try {
    await registry.db.$transaction(async (tx) => {
      const at = registry.now();
      const waiting = { status: 'submitted', submittedAt: at, decidedAt: null, round } as const;
      if (!(await moveRun(tx, runId, statusesAllowing('appeal'), waiting, run.draftVersion)))
        throw notRejected();
      await insertAppeal(tx, {
        revisionId: revision.id,
        runId,
        byId: actor.accountId,
        words,
        appealedAt: at,
        round,
      });
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'run.appeal',
        subjectKind: 'run',
        subjectId: runId,
        details: { revision: revision.number, round },
      });
    });
  } catch (error) {
    if (!isUniqueViolation(error)) throw error;
    throw new Conflict('This revision was appealed for once, and another reviewer rejected it again.');
  }
}

function notRejected(): Conflict {
  return new Conflict('Only a run that is rejected can be appealed for.');
}

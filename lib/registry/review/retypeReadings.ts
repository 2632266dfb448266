import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { compareRetyped, readingsOnPhotos } from '@/lib/capture/blindEntry';
import { Conflict, type InputIssue, InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { insertRetyped, type NewRetyped, readingsToRetype } from '@/lib/store/retypedReadings';
import { openClaim } from '@/lib/store/reviews';
import { runState } from '@/lib/store/runs';
import { lockRun } from '@/lib/store/traces';
import type { Registry } from '../registry';

const retypeSchema = z.object({
  runId: z.uuid(),
  revisionNumber: z.int32().min(1),
  /** By the reading's name, as the photo shows it; empty is left for later. */
  texts: z.record(z.string().max(60), z.string().max(60)),
  /** Shows what is left without it being read off a photo; that is kept too. */
  showRest: z.boolean().default(false),
});

/** Whoever holds the run types what its photos show; from then on they see what the tester typed. */
export async function retypeReadings(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { runId, revisionNumber, texts, showRest } = parseInput(retypeSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'reviewRun', run.testerId, worldKey(run.world));
  const revision = run.revisions[0];
  if (run.status !== 'submitted' || revision?.number !== revisionNumber)
    throw new Conflict('This revision does not wait for a decision any more.');
  if ((await openClaim(registry.db, runId))?.reviewerId !== actor.accountId)
    throw new Conflict('Claim the run before you read its photos.');
  const { readings, photos } = await readingsToRetype(registry.db, revision.id);
  const typed = new Map(Object.entries(texts));
  const issues: InputIssue[] = [];
  const at = registry.now();
  const rows = readingsOnPhotos(readings, photos).flatMap(({ field, reading }): NewRetyped[] => {
    const text = typed.get(field.name)?.trim() ?? '';
    const row = { revisionId: revision.id, reviewerId: actor.accountId, quantity: field.name, typedAt: at };
    if (text === '') return showRest ? [{ ...row, text: null, agrees: null }] : [];
    const compared = compareRetyped(text, field, reading);
    if (compared.ok) return [{ ...row, text, agrees: compared.agrees }];
    issues.push(compared.issue);
    return [];
  });
  if (issues.length > 0) throw new InvalidInput(issues);
  if (rows.length === 0) throw new InvalidInput([nothingTyped()]);
  await registry.db.$transaction(async (tx) => {
    if (!(await lockRun(tx, runId, ['submitted'])))
      throw new Conflict('This revision does not wait for a decision any more.');
    if ((await insertRetyped(tx, rows)) === 0) return;
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'review.retype',
      subjectKind: 'run',
      subjectId: runId,
      details: {
        revision: revisionNumber,
        typed: rows.filter(({ text }) => text !== null).length,
        differ: rows.filter(({ agrees }) => agrees === false).map(({ quantity }) => quantity),
        shown: rows.filter(({ text }) => text === null).length,
      },
    });
  });
}

function nothingTyped(): InputIssue {
  return {
    path: 'texts',
    what: 'Nothing is typed.',
    why: 'What the tester typed is shown beside what you read.',
    fix: 'Read at least one number off its photo.',
  };
}

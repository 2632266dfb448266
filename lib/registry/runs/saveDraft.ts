import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict, NotFound, StaleDraft } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { runFormSchema } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import { statusesAllowing } from '@/lib/run/runStatus';
import { appendAuditUnlessSince } from '@/lib/store/audit';
import { runState, updateDraft } from '@/lib/store/runs';
import type { Registry } from '../registry';

export const saveDraftSchema = z.object({
  runId: z.uuid(),
  draftVersion: z.int32().min(1),
  form: runFormSchema,
});

const AUDIT_EVERY_MS = 15 * 60 * 1000;

/**
 * Keeps what was typed, right or wrong. The writer names the version that it saw; if another window or phone saved in
 * between, nothing is overwritten and a conflict says so. Autosaves come by the second: the log has one entry for each
 * quarter of an hour of typing.
 */
export async function saveDraft(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ draftVersion: number }> {
  const { runId, draftVersion, form } = parseInput(saveDraftSchema, input);
  const run = await runState(registry.db, runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  const editable = statusesAllowing('submit');
  const at = registry.now();
  const isSaved = await registry.db.$transaction(async (tx) => {
    if (!(await updateDraft(tx, runId, draftVersion, editable, form, at))) return false;
    await appendAuditUnlessSince(
      tx,
      {
        at,
        actorId: actor.accountId,
        action: 'run.saveDraft',
        subjectKind: 'run',
        subjectId: runId,
        details: { draftVersion: draftVersion + 1 },
      },
      new Date(at.getTime() - AUDIT_EVERY_MS),
    );
    return true;
  });
  if (isSaved) return { draftVersion: draftVersion + 1 };
  const now = await runState(registry.db, runId);
  if (now !== null && !editable.includes(now.status)) {
    throw new Conflict(
      'This run has been submitted: it can be changed again when a reviewer asks for changes.',
    );
  }
  throw new StaleDraft();
}

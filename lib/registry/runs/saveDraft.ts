import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { runFormSchema } from '@/lib/capture/parseRunForm';
import { Conflict, NotFound } from '@/lib/domain/errors';
import type { Actor } from '@/lib/domain/roles';
import { statusesAllowing } from '@/lib/domain/runStatus';
import { runState, updateDraft } from '@/lib/store/runs';
import { parseInput } from '../parseInput';
import type { Registry } from '../registry';

export const saveDraftSchema = z.object({
  runId: z.uuid(),
  draftVersion: z.number().int().min(1),
  form: runFormSchema,
});

/**
 * Keeps what was typed, right or wrong. The writer names the version that it saw; if another window or phone saved in
 * between, nothing is overwritten and a conflict says so. Autosaves are not audited one by one: the log tells of steps.
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
  if (await updateDraft(registry.db, runId, draftVersion, editable, form, registry.now())) {
    return { draftVersion: draftVersion + 1 };
  }
  const now = await runState(registry.db, runId);
  if (now !== null && !editable.includes(now.status)) {
    throw new Conflict(
      'This run has been submitted: it can be changed again when a reviewer asks for changes.',
    );
  }
  throw new Conflict(
    'This draft was changed in another window or on another device. Reload to see that version.',
  );
}

import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { parseInput } from '@/lib/run/parseInput';
import { runFormSchema } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import { joinedWorld, RECORD } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation } from '@/lib/store/database';
import { insertDraft, runByCreationKey } from '@/lib/store/runs';
import { drivesIn } from '@/lib/store/studies';
import type { Registry } from '../registry';

export const startDraftSchema = z.object({
  /** Made once by the form or the phone; sending the same key again finds the same draft. */
  creationKey: z.string().min(8).max(80),
  form: runFormSchema.default({}),
  /** The study whose button began it. */
  studyId: z.uuid().optional(),
});

export interface DraftRef {
  runId: string;
  number: number;
  draftVersion: number;
}

/** Opens a draft, or returns the one that this key opened before. */
export async function startDraft(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<DraftRef> {
  authorise(actor, 'recordRun');
  return openDraft(registry, actor, parseInput(startDraftSchema, input));
}

interface NewDraft extends z.infer<typeof startDraftSchema> {
  sheetId?: string;
}

/** The draft of a key, on a sheet of the same tester where one is named. */
export async function openDraft(
  registry: Registry,
  actor: Actor,
  { creationKey, form, sheetId, studyId }: NewDraft,
): Promise<DraftRef> {
  const known = await runByCreationKey(registry.db, actor.accountId, creationKey);
  if (known !== null) return reference(known);
  // Of a study that the tester has left, or never drove in, nothing is remembered.
  const isOwn = studyId !== undefined && (await drivesIn(registry.db, studyId, actor.accountId));
  try {
    return await registry.db.$transaction(async (tx) => {
      const at = registry.now();
      const draft = await insertDraft(tx, {
        testerId: actor.accountId,
        creationKey,
        form,
        sheetId,
        begunForStudyId: isOwn ? studyId : undefined,
        world: joinedWorld([registry.world, actor.world ?? RECORD]),
        at,
      });
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'run.startDraft',
        subjectKind: 'run',
        subjectId: draft.id,
      });
      return reference(draft);
    });
  } catch (error) {
    // The same form sent twice at once: the other request won.
    const winner = isUniqueViolation(error)
      ? await runByCreationKey(registry.db, actor.accountId, creationKey)
      : null;
    if (winner === null) throw error;
    return reference(winner);
  }
}

function reference(run: { id: string; number: number; draftVersion: number }): DraftRef {
  return { runId: run.id, number: run.number, draftVersion: run.draftVersion };
}

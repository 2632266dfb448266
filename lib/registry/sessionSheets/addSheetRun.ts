import { z } from 'zod';
import { InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { runByCreationKey } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { type DraftRef, openDraft, startDraftSchema } from '../runs/startDraft';
import { MOST_RUNS, ownSheet } from './ownSheet';

const addSheetRunSchema = z.object({
  sheetId: z.uuid(),
  creationKey: z.string().min(8).max(80),
  /** Empty where none is chosen yet. */
  setupId: z.union([z.literal(''), z.uuid()]).default(''),
  /** The study by whose plan it is begun. */
  studyId: z.uuid().optional(),
});

/** The next run of the day: a draft that holds what the day says, and the setup. Sent twice, it is one run. */
export async function addSheetRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<DraftRef> {
  const { sheetId, creationKey, setupId, studyId } = parseInput(addSheetRunSchema, input);
  const { actor: owner, sheet, runs } = await ownSheet(registry, actor, sheetId);
  const form = setupId === '' ? sheet.shared : { ...sheet.shared, setupId };
  return placed(registry, owner, { creationKey, form, sheetId, studyId }, runs.length);
}

const sheetDraftSchema = startDraftSchema.extend({ sheetId: z.uuid() });

/** A run of the day that was noted elsewhere, with its whole form. */
export async function openSheetRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<DraftRef> {
  const draft = parseInput(sheetDraftSchema, input);
  const { actor: owner, runs } = await ownSheet(registry, actor, draft.sheetId);
  return placed(registry, owner, draft, runs.length);
}

async function placed(
  registry: Registry,
  owner: Actor,
  draft: z.infer<typeof sheetDraftSchema>,
  standing: number,
): Promise<DraftRef> {
  // Of a full sheet one run may be sent again: what it came to is told.
  const isKnown = async () =>
    (await runByCreationKey(registry.db, owner.accountId, draft.creationKey)) !== null;
  if (standing >= MOST_RUNS && !(await isKnown())) {
    throw new InvalidInput([
      {
        path: 'nextSetupId',
        what: `This sheet holds ${MOST_RUNS} runs already.`,
        why: 'That is more than anybody drives in a day.',
        fix: 'Open another sheet for the same day.',
      },
    ]);
  }
  return openDraft(registry, owner, draft);
}

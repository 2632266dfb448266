import { z } from 'zod';
import { InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import type { Registry } from '../registry';
import { type DraftRef, openDraft } from '../runs/startDraft';
import { MOST_RUNS, ownSheet } from './ownSheet';

const addSheetRunSchema = z.object({
  sheetId: z.uuid(),
  creationKey: z.string().min(8).max(80),
  /** Empty where none is chosen yet. */
  setupId: z.union([z.literal(''), z.uuid()]).default(''),
});

/** The next run of the day: a draft that holds what the day says, and the setup. Sent twice, it is one run. */
export async function addSheetRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<DraftRef> {
  const { sheetId, creationKey, setupId } = parseInput(addSheetRunSchema, input);
  const { actor: owner, sheet, runs } = await ownSheet(registry, actor, sheetId);
  if (runs.length >= MOST_RUNS) {
    throw new InvalidInput([
      {
        path: 'nextSetupId',
        what: `This sheet holds ${MOST_RUNS} runs already.`,
        why: 'That is more than anybody drives in a day.',
        fix: 'Open another sheet for the same day.',
      },
    ]);
  }
  const form = setupId === '' ? sheet.shared : { ...sheet.shared, setupId };
  return openDraft(registry, owner, { creationKey, form, sheetId });
}

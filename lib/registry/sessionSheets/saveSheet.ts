import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { runFormSchema } from '@/lib/run/parseRunForm';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import type { RunStatus } from '@/lib/run/runStatus';
import { dayOf, wholeForm, withDay } from '@/lib/run/sessionSheet';
import { appendAuditUnlessSince } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { updateDraft } from '@/lib/store/runs';
import { updateSheet } from '@/lib/store/sessionSheets';
import type { Registry } from '../registry';
import { ownSheet, type SheetRun } from './ownSheet';

const saveSheetSchema = z.object({
  sheetId: z.uuid(),
  /** Of what the writer saw: `seenOf` the sheet and the open run. */
  seen: z.int32().min(1),
  day: runFormSchema,
  /** The run that is open on the page, with its own part as typed. */
  runId: z.uuid().optional(),
  run: runFormSchema.default({}),
});

/** A run that was sent in, or sent back for changes, is its own: no sheet reaches it any more. */
const DRAFTS: RunStatus[] = ['draft'];

const AUDIT_EVERY_MS = 15 * 60 * 1000;
const CHANGED = 'This day was changed in another window or on another device. Reload to see that version.';

/** What a page saw of a sheet and its open run, as one number: both versions only ever rise, and so does their sum. */
export function seenOf(sheet: { version: number }, run: { draftVersion: number } | undefined): number {
  return sheet.version + (run?.draftVersion ?? 0);
}

/**
 * Keeps what was typed on the sheet of a day: what the day says, copied into each draft that has not said otherwise,
 * and the run that is open on the page. If another window or phone saved in between, nothing is overwritten and a
 * conflict says so. Runs that were submitted are left alone.
 */
export async function saveSheet(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ seen: number; draftVersion: number }> {
  const { sheetId, seen, day: posted, runId, run: part } = parseInput(saveSheetSchema, input);
  const { actor: owner, sheet, runs } = await ownSheet(registry, actor, sheetId);
  const open = runs.find(({ id }) => id === runId);
  if (runId !== undefined && open === undefined) throw new NotFound('This run is not on the sheet.');
  if (seenOf(sheet, open) !== seen) throw new Conflict(CHANGED);
  if (open !== undefined && !DRAFTS.includes(open.status))
    throw new Conflict('This run has been submitted: what was typed here since is not in it.');
  const day = dayOf(posted);
  const isDayNew = !isDeepStrictEqual(day, sheet.shared);
  const at = registry.now();
  const note = noteBy(owner.accountId, at);
  await registry.db.$transaction(async (tx) => {
    if (isDayNew) {
      if (!(await updateSheet(tx, sheetId, sheet.version, day, at))) throw new Conflict(CHANGED);
      await note(tx, 'sessionSheet.save', 'sessionSheet', sheetId);
    }
    const write = async (run: SheetRun, form: RunForm) => {
      if (!(await updateDraft(tx, run.id, run.draftVersion, DRAFTS, form, at))) throw new Conflict(CHANGED);
      await note(tx, 'run.saveDraft', 'run', run.id, { draftVersion: run.draftVersion + 1 });
    };
    for (const run of runs) {
      if (!DRAFTS.includes(run.status)) continue;
      const followed = isDayNew ? withDay(run.form, sheet.shared, day) : run.form;
      if (run === open) await write(run, wholeForm(followed, part, day, sheet.localDate));
      else if (!isDeepStrictEqual(followed, run.form)) await write(run, followed);
    }
  });
  return {
    seen: seen + (isDayNew ? 1 : 0) + (open === undefined ? 0 : 1),
    draftVersion: (open?.draftVersion ?? 0) + 1,
  };
}

/** Saves come by the second: the log has one entry for each quarter of an hour of typing. */
function noteBy(actorId: string, at: Date) {
  const since = new Date(at.getTime() - AUDIT_EVERY_MS);
  return (tx: Queryable, action: string, subjectKind: string, subjectId: string, details = {}) =>
    appendAuditUnlessSince(tx, { at, actorId, action, subjectKind, subjectId, details }, since);
}

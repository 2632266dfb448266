'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { addSheetRun } from '@/lib/registry/sessionSheets/addSheetRun';
import { daySheet } from '@/lib/registry/sessionSheets/daySheet';
import { heldSheet } from '@/lib/registry/sessionSheets/heldSheet';
import { saveSheet } from '@/lib/registry/sessionSheets/saveSheet';
import { submitDay } from '@/lib/registry/sessionSheets/submitDay';
import { Conflict } from '@/lib/run/errors';
import { unitFieldName } from '@/lib/run/numberField';
import { answeredForm, baseOf, broughtTogether, type PostedPlace } from '../../[runId]/changedElsewhere';
import type { SentRun } from '../../[runId]/sentRun';
import { joinSheet, SHEET_NAMES, splitSheet } from './sheetForm';

/** Saves the day as posted, and then does what the pressed button says. */
export async function sendDay(_previous: SentRun, data: FormData): Promise<SentRun> {
  const actor = await signedIn();
  const text = (name: string) => String(data.get(name) ?? '');
  const [sheetId, runId] = [text('sheetId'), text('runId') || undefined];
  const [intent = 'save', of = ''] = (text('intent') || 'save').split(':');
  let seen = Number(data.get('seenSheet'));
  const { form, stillOpen } = answeredForm(data, seen, SHEET_NAMES);
  if (stillOpen !== undefined) return { ...stillOpen, form, draftVersion: seen };
  const place = postedSheet(actor, sheetId, runId);
  const page = `/record/day/${encodeURIComponent(sheetId)}`;
  const runAt = (run: string) => `${page}?run=${encodeURIComponent(run)}#run`;
  let href = `${page}?notice=saved${runId === undefined ? '' : `&run=${encodeURIComponent(runId)}`}`;
  let isSaved = false;
  try {
    if (intent === 'take') {
      const { offers } = await daySheet(registry(), actor, sheetId, runId);
      const offer = offers.find(({ name }) => name === of);
      if (offer) Object.assign(form, { [of]: offer.text, [unitFieldName(of)]: offer.unit });
    }
    const saved = await saveSheet(registry(), actor, { sheetId, seen, runId, ...splitSheet(form) });
    seen = saved.seen;
    isSaved = true;
    if (intent === 'open') href = runAt(of);
    if (intent === 'whole' && runId !== undefined) href = `/record/${runId}`;
    if (intent === 'next') {
      const next = {
        sheetId,
        creationKey: text('nextKey'),
        setupId: text('nextSetupId'),
        studyId: text('nextStudyId') || undefined,
      };
      href = runAt((await addSheetRun(registry(), actor, next)).runId);
    }
    if (intent === 'submit' && runId !== undefined) {
      await submitRun(registry(), actor, { runId, draftVersion: saved.draftVersion });
      href = `${page}?notice=sent`;
    }
    if (intent === 'submitAll') {
      const { sent, refused: kept } = await submitDay(registry(), actor, { sheetId });
      href = `${page}?notice=${sent.length > 0 ? 'sent' : 'noneComplete'}`;
      if (kept.length > 0) {
        const reasons = kept.map(({ number, why }) => `Run ${number} was not sent: ${why}`);
        return { title: reasons.join(' '), issues: [], values: {}, form, draftVersion: seen };
      }
    }
  } catch (error) {
    const merged =
      error instanceof Conflict && !isSaved ? await broughtTogether(place, form, baseOf(data)) : undefined;
    if (merged !== undefined) return merged;
    return { ...(await refused(error)), form, draftVersion: seen };
  }
  revalidatePath('/record', 'layout');
  redirect(href);
}

/** A day's sheet with its open run. */
function postedSheet(
  actor: Awaited<ReturnType<typeof signedIn>>,
  sheetId: string,
  runId: string | undefined,
): PostedPlace {
  return {
    names: SHEET_NAMES,
    held: async () => {
      const { seen: version, day, run, isEditable } = await heldSheet(registry(), actor, sheetId, runId);
      return { version, form: joinSheet(day, run), isEditable };
    },
    save: async (seen, form) =>
      (await saveSheet(registry(), actor, { sheetId, seen, runId, ...splitSheet(form) })).seen,
  };
}

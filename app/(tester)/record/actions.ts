'use server';

import { redirect } from 'next/navigation';
import { type FormState, text, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { startDraft } from '@/lib/registry/runs/startDraft';
import { continueDay, openSheet } from '@/lib/registry/sessionSheets/openSheet';
import { beginPlannedRun } from '@/lib/registry/studies/beginPlannedRun';

/** Opens the draft of this button; pressed twice, it opens the same one. */
export async function startRun(_previous: FormState, data: FormData): Promise<FormState> {
  let runId: string;
  try {
    const creationKey = String(data.get('creationKey') ?? '');
    ({ runId } = await startDraft(registry(), await signedIn(), { creationKey }));
  } catch (error) {
    return refused(error, {});
  }
  redirect(`/record/${runId}`);
}

/** Opens the sheet of a day. */
export async function startDay(_previous: FormState, data: FormData): Promise<FormState> {
  let sheetId: string;
  try {
    const day = { creationKey: text(data, 'creationKey'), localDate: text(data, 'localDate') };
    ({ sheetId } = await openSheet(registry(), await signedIn(), day));
  } catch (error) {
    return refused(error, textsOf(data));
  }
  redirect(`/record/day/${sheetId}`);
}

/** Goes on with the day of a run: its sheet, made where it has none. */
export async function continueDayOf(_previous: FormState, data: FormData): Promise<FormState> {
  let sheetId: string;
  try {
    const run = { creationKey: text(data, 'creationKey'), runId: text(data, 'runId') };
    ({ sheetId } = await continueDay(registry(), await signedIn(), run));
  } catch (error) {
    return refused(error);
  }
  redirect(`/record/day/${sheetId}`);
}

/** Begins the run that is next in a study's plan, on the sheet of today. */
export async function beginPlanned(_previous: FormState, data: FormData): Promise<FormState> {
  let begun: { sheetId: string; runId: string };
  try {
    const run = { studyId: text(data, 'studyId'), creationKey: text(data, 'creationKey') };
    begun = await beginPlannedRun(registry(), await signedIn(), run);
  } catch (error) {
    return refused(error);
  }
  redirect(`/record/day/${begun.sheetId}?run=${begun.runId}#run`);
}

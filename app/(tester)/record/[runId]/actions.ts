'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import type { FormState } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { problemOf } from '@/app/visitor/problem';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { removeEvidence } from '@/lib/registry/runs/addEvidence';
import { withdrawRun } from '@/lib/registry/runs/retractRun';
import { saveDraft } from '@/lib/registry/runs/saveDraft';
import { submitRun } from '@/lib/registry/runs/submitRun';
import { Conflict } from '@/lib/run/errors';
import { attachPhotos } from './attachPhotos';
import { answeredForm, baseOf, broughtTogether, postedRun } from './changedElsewhere';
import type { SentRun } from './sentRun';

/** Pages of a draft that are reached by saving its form. */
function isFurtherPage(intent: string): boolean {
  return intent === 'weather' || intent === 'loop';
}

/** Saves or submits the form as posted, by the button that was pressed, with the photos that were chosen. */
export async function sendRun(_previous: SentRun, data: FormData): Promise<SentRun> {
  const actor = await signedIn();
  const draftVersion = Number(data.get('draftVersion'));
  const { form, stillOpen } = answeredForm(data, draftVersion);
  const draft = { runId: String(data.get('runId') ?? ''), draftVersion, form };
  if (stillOpen !== undefined) return { ...stillOpen, form, draftVersion: draft.draftVersion };
  const intent = String(data.get('intent') ?? 'save');
  const isSubmission = intent === 'submit';
  let href = `/record/${draft.runId}${isFurtherPage(intent) ? `/${intent}` : '?notice=saved'}`;
  try {
    if (!isSubmission) ({ draftVersion: draft.draftVersion } = await saveDraft(registry(), actor, draft));
    await attachPhotos(actor, draft.runId, data);
    if (intent.startsWith('remove:')) {
      await removeEvidence(registry(), actor, {
        runId: draft.runId,
        evidenceId: intent.slice('remove:'.length),
      });
    }
    if (isSubmission) href = `/runs/${(await submitRun(registry(), actor, draft)).runNumber}?notice=sent`;
  } catch (error) {
    const merged =
      error instanceof Conflict
        ? await broughtTogether(postedRun(actor, draft.runId), form, baseOf(data))
        : undefined;
    if (merged !== undefined) return merged;
    const kept = isSubmission ? await keepDraft(actor, draft) : draft.draftVersion;
    return { ...(await refused(error, {})), form, draftVersion: kept };
  }
  revalidatePath('/record', 'layout');
  redirect(href);
}

/** What could not be submitted is kept as a draft; where even that is refused, the form still shows it. */
async function keepDraft(
  actor: Awaited<ReturnType<typeof signedIn>>,
  draft: { runId: string; draftVersion: number; form: Record<string, string> },
): Promise<number> {
  try {
    return (await saveDraft(registry(), actor, draft)).draftVersion;
  } catch (error) {
    problemOf(error);
    return draft.draftVersion;
  }
}

/** Takes a run that waits for review back to a draft. */
export async function withdraw(_previous: FormState, data: FormData): Promise<FormState> {
  const runId = String(data.get('runId') ?? '');
  try {
    await withdrawRun(registry(), await signedIn(), { runId });
  } catch (error) {
    return refused(error, {});
  }
  revalidatePath('/record', 'layout');
  redirect(`/record/${runId}?notice=withdrawn`);
}

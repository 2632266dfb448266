'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, shownTextsOf, text, UNTOUCHED } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { claimRun, releaseRun } from '@/lib/registry/review/claimRun';
import { decideReview } from '@/lib/registry/review/decideReview';
import { retypeReadings } from '@/lib/registry/review/retypeReadings';
import { nextReview } from '@/lib/registry/review/review';
import { decisionOf, onFields } from './decisionOf';
import { retypedField, retypedTexts } from './retypedField';

export async function claim(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await claimRun(registry(), await signedIn(), { runId: text(data, 'runId') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/review', 'layout');
  return UNTOUCHED;
}

export async function release(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await releaseRun(registry(), await signedIn(), { runId: text(data, 'runId') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/review', 'layout');
  return UNTOUCHED;
}

/** What a reviewer read off the photos; from then on the tester's own stand beside it. */
export async function retype(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await retypeReadings(registry(), await signedIn(), {
      runId: text(data, 'runId'),
      revisionNumber: Number(text(data, 'revisionNumber')),
      texts: retypedTexts(data),
      showRest: text(data, 'showRest') !== '',
    });
  } catch (error) {
    const refusal = await refused(error, shownTextsOf(data));
    const onField = ({ path }: { path: string }) => (path === 'texts' ? 'showRest' : retypedField(path));
    return { ...refusal, issues: refusal.issues.map((issue) => ({ ...issue, path: onField(issue) })) };
  }
  revalidatePath('/review', 'layout');
  return UNTOUCHED;
}

/** Records the decision and goes on to the next run in the queue. */
export async function decide(_previous: FormState, data: FormData): Promise<FormState> {
  const actor = await signedIn();
  const decision = decisionOf(data);
  let next: number | undefined;
  let outcome: string;
  try {
    outcome = await decideReview(registry(), actor, decision);
    next = await nextReview(registry(), actor, decision.runId);
  } catch (error) {
    return onFields(await refused(error, shownTextsOf(data)), data);
  }
  revalidatePath('/', 'layout');
  const decided = `decided=${text(data, 'number')}-${outcome}`;
  redirect(next === undefined ? `/queue?${decided}` : `/review/${next}?${decided}`);
}

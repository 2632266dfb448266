'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { askForTest } from '@/lib/registry/requests/askForTest';
import { backRequest, closeRequest, hideRequest } from '@/lib/registry/requests/voices';

/** Asks for a test; where others ask for something like it, the page shows these first. */
export async function ask(_previous: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  const { modelId = '', cruiseClassKey = '', pair = '', question = '' } = values;
  let requestId: string;
  try {
    const isOther = values.isOther === 'yes';
    ({ requestId } = await askForTest(registry(), await signedIn(), { ...values, isOther }));
  } catch (error) {
    const state = await refused(error, values);
    if (!state.issues.some(({ path }) => path === 'isOther') || values.pair === values.seen) return state;
    redirect(
      `/requests/new?${new URLSearchParams({ model: modelId, class: cruiseClassKey, pair, question })}`,
    );
  }
  revalidatePath('/requests', 'layout');
  redirect(`/requests/${requestId}`);
}

/** Gives a voice, or takes it back. */
export async function voice(_previous: FormState, data: FormData): Promise<FormState> {
  const wants = text(data, 'wants');
  try {
    await backRequest(registry(), await signedIn(), { requestId: text(data, 'requestId'), wants });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/requests', 'layout');
  return finished(wants === 'back' ? 'Backed.' : 'Taken back.');
}

/** Takes one's own request back. */
export async function close(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await closeRequest(registry(), await signedIn(), { requestId: text(data, 'requestId') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/requests', 'layout');
  return finished('Taken back.');
}

/** Takes a request out of the lists, with a reason. */
export async function hide(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await hideRequest(registry(), await signedIn(), {
      requestId: text(data, 'requestId'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/requests', 'layout');
  return finished('Hidden.');
}

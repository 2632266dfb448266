'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { correctRun } from '@/lib/registry/runs/correctRun';
import { proposedHref } from '../../../proposedHref';
import { runFormOf } from '../../../record/formValues';

/** Proposes what the form holds of an approved run. */
export async function correctRunFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = runFormOf(data);
  const reason = text(data, 'reason');
  // The button that fills in the weather where no scripts run sends the form: nothing is proposed by it.
  if (text(data, 'intent') !== '')
    return {
      title: 'The station reports are read when the correction is proposed.',
      issues: [],
      values: { ...form, reason },
    };
  let href: string;
  try {
    const proposed = await correctRun(registry(), await signedIn(), {
      runId: text(data, 'runId'),
      form,
      reason,
    });
    href = proposedHref(proposed, '/my');
  } catch (error) {
    return refused(error, { ...form, reason });
  }
  revalidatePath('/runs', 'layout');
  redirect(href);
}

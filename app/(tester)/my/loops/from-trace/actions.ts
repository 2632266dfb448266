'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { addLoopFromTrace } from '@/lib/registry/loops/loopFromTrace';
import { waitingFor, waitingHref } from '../../../waiting';

/** Adds the loop with its route, legs and heights from the recording. */
export async function addProposedLoop(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const run = waitingFor(form.run);
  let added: { loopId: string; slug: string };
  try {
    const from = { traceId: form.traceId ?? '', form };
    added = await addLoopFromTrace(registry(), await signedIn(), from);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(run ? waitingHref(run, { loop: added.loopId }) : `/loops/${added.slug}`);
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { parseLoopForm } from '@/lib/capture/loopForm';
import { addLoop, addLoopSchema } from '@/lib/registry/loops/addLoop';
import { parseForm } from '@/lib/run/parseForm';
import { waitingFor, waitingHref } from '../../../waiting';

/** Adds a loop, then leads to it or back to the run that waits for it. */
export async function addLoopFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const run = waitingFor(form.run);
  let added: { loopId: string; slug: string };
  try {
    const input = parseForm(addLoopSchema, parseLoopForm(form));
    added = await addLoop(registry(), await signedIn(), input);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(run ? waitingHref(run, { loop: added.loopId }) : `/loops/${added.slug}`);
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { composeSetup } from '@/lib/registry/setups/composeSetup';
import { waitingFor, waitingHref } from '../../../waiting';
import { chosenLevels } from './chosenLevels';

/** Makes the setup of the chosen levels, then leads to it or back to the run that waits for it. */
export async function addSetupFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const run = waitingFor(form.run);
  let slug: string;
  try {
    const input = { modelId: form.modelId, choices: chosenLevels(form) };
    ({ slug } = await composeSetup(registry(), await signedIn(), input));
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(run ? waitingHref(run) : `/setups/${slug}`);
}

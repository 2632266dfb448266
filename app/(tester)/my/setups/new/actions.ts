'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { signedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { composeSetup } from '@/lib/registry/setups/composeSetup';
import { type FormState, refused, textsOf } from '../../../formState';
import { idOrNothing } from '../../../readView';
import { chosenLevels } from './chosenLevels';

/** Makes the setup of the chosen levels, then leads to it or back to the run that waits for it. */
export async function addSetupFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const run = idOrNothing(form.run);
  let slug: string;
  try {
    const input = { modelId: form.modelId, choices: chosenLevels(form) };
    ({ slug } = await composeSetup(registry(), await signedIn(), input));
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(run ? `/record/${run}` : `/setups/${slug}`);
}

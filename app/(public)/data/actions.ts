'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { chooseLicence } from '@/lib/registry/openData/licence';

export async function changeLicence(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await chooseLicence(registry(), await signedIn(), { licence: text(data, 'licence') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/data');
  return finished('Chosen for the snapshots to come; those that are published keep theirs.');
}

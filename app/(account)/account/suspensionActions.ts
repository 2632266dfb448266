'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { appealSuspension } from '@/lib/registry/accounts/suspend';

export async function appealOwnSuspension(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await appealSuspension(registry(), await signedIn(), { words: text(data, 'words') });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/', 'layout');
  return finished('Sent: the stewards read it beside the reason.');
}

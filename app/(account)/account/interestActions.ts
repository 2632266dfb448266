'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { declareInterest, endInterest } from '@/lib/registry/review/interests';

export async function declare(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await declareInterest(registry(), await signedIn(), {
      kind: text(data, 'kind') || undefined,
      name: text(data, 'name'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/', 'layout');
  return finished('It is declared. Such runs are decided by others from now on.');
}

export async function endInterestOf(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await endInterest(registry(), await signedIn(), { id: text(data, 'id') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/', 'layout');
  return finished('Ended.');
}

'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { chooseNoticeMail } from '@/lib/registry/accounts/noticeMail';

const DONE = {
  none: 'No letters go to you from now on.',
  each: 'Your notices go to you as they come, from now on.',
  weekly: 'Your notices go to you once a week, from now on.',
} as const;

export async function chooseLetters(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const choice = await chooseNoticeMail(registry(), await signedIn(), { choice: text(data, 'choice') });
    revalidatePath('/account');
    return finished(DONE[choice]);
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { choosePublishedDays } from '@/lib/registry/accounts/publishedDays';

const DONE = {
  day: 'Readers see the day and the hour of your runs, from now on.',
  month: 'Readers see no more than the month of your runs, from now on.',
} as const;

export async function choosePublished(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const publishedDays = text(data, 'publishedDays');
    const chosen = await choosePublishedDays(registry(), await signedIn(), { publishedDays });
    revalidatePath('/account');
    return finished(DONE[chosen]);
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

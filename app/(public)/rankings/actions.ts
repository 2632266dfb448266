'use server';

import { revalidatePath } from 'next/cache';
import { signedIn } from '@/app/visitor/actor';
import { type FormState, text } from '@/app/visitor/formState';
import { problemOf } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { requestRefit } from '@/lib/registry/rankings/requestRefit';

export async function refitClass(_state: FormState, data: FormData): Promise<FormState> {
  let isNew: boolean;
  try {
    ({ isNew } = await requestRefit(registry(), await signedIn(), {
      cruiseClassKey: text(data, 'cruiseClassKey'),
      world: text(data, 'world'),
    }));
  } catch (error) {
    return { problem: problemOf(error) };
  }
  revalidatePath('/rankings');
  return { done: isNew ? 'Asked for; it runs in the background.' : 'It was already waiting.' };
}

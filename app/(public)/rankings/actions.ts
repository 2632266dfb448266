'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
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
    return refused(error);
  }
  revalidatePath('/rankings');
  return finished(isNew ? 'Asked for; it runs in the background.' : 'It was already waiting.');
}

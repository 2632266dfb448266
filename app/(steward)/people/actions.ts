'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { setRole } from '@/lib/registry/accounts/setRole';
import { vouchFor } from '@/lib/registry/accounts/vouch';

export async function changeRole(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await setRole(registry(), await signedIn(), {
      accountId: text(data, 'accountId'),
      role: text(data, 'role'),
    });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/people');
  return finished('Role changed; the account has to sign in again.');
}

export async function vouch(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await vouchFor(registry(), await signedIn(), { accountId: text(data, 'accountId') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/people');
  return finished('Vouched for: their runs may be ranked from the next fit on.');
}

'use server';

import { revalidatePath } from 'next/cache';
import { signedIn } from '@/app/visitor/actor';
import { type FormState, text } from '@/app/visitor/formState';
import { problemOf } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { setRole } from '@/lib/registry/accounts/setRole';

export async function changeRole(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await setRole(registry(), await signedIn(), {
      accountId: text(data, 'accountId'),
      role: text(data, 'role'),
    });
  } catch (error) {
    return { problem: problemOf(error) };
  }
  revalidatePath('/people');
  return { done: 'Role changed; the account has to sign in again.' };
}

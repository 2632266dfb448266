'use server';

import { type FormState, finished, text } from '@/app/ui/forms/formState';
import { mail } from '@/app/visitor/mail';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { resetPassword } from '@/lib/registry/accounts/resetPassword';

export async function choosePassword(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const input = { token: text(data, 'token'), newPassword: text(data, 'newPassword') };
    await resetPassword(registry(), mail(), input);
    return finished('The password is changed, and every place is signed out. Sign in with the new one.');
  } catch (error) {
    return refused(error);
  }
}

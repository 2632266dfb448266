'use server';

import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { networkAddress } from '@/app/visitor/networkAddress';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { signUp } from '@/lib/registry/accounts/signUp';

/** Opens the account; the form signs in with the same password afterwards. */
export async function openAccount(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const input = {
      email: text(data, 'email'),
      displayName: text(data, 'displayName'),
      password: text(data, 'password'),
      stewardCode: text(data, 'stewardCode') || undefined,
    };
    await signUp(registry(), input, await networkAddress());
    return finished('Your account is open.', shownTextsOf(data));
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

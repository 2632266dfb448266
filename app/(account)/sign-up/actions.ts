'use server';

import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { mail } from '@/app/visitor/mail';
import { networkAddress } from '@/app/visitor/networkAddress';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { askForAccount } from '@/lib/registry/accounts/askForAccount';

/** Opens the account; the form signs in with the same password afterwards. */
export async function openAccount(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const input = {
      email: text(data, 'email'),
      displayName: text(data, 'displayName'),
      password: text(data, 'password'),
      stewardCode: text(data, 'stewardCode') || undefined,
    };
    await askForAccount(registry(), mail(), input, await networkAddress());
    return finished(
      'This address has an account now. Sign in with the password that you chose; one that it had before keeps its own.',
      shownTextsOf(data),
    );
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

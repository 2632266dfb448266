'use server';

import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { mail } from '@/app/visitor/mail';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { askForAddress, askToProve } from '@/lib/registry/accounts/proveAddress';

export async function askToProveAddress(): Promise<FormState> {
  try {
    await askToProve(registry(), mail(), await signedIn());
    return finished('A letter with a link is on its way.');
  } catch (error) {
    return refused(error);
  }
}

export async function changeAddress(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await askForAddress(registry(), mail(), await signedIn(), { email: text(data, 'email') });
    return finished('If the address has no account yet, a letter with a link is on its way to it.');
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

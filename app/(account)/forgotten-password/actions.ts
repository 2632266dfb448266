'use server';

import { after } from 'next/server';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { mail } from '@/app/visitor/mail';
import { networkAddress } from '@/app/visitor/networkAddress';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { askForReset } from '@/lib/registry/accounts/resetPassword';

export async function askForPassword(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const input = { email: text(data, 'email') };
    after(await askForReset(registry(), mail(), input, await networkAddress()));
    return finished(
      'If this address has an account, a letter with a link is on its way. The link works for one hour.',
    );
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { mail } from '@/app/visitor/mail';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { makePersonalToken, revokePersonalToken } from '@/lib/registry/accounts/personalTokens';

export async function makeToken(_state: FormState, data: FormData): Promise<FormState> {
  const scopes = data.getAll('scopes').map(String);
  try {
    const { secret } = await makePersonalToken(registry(), mail(), await signedIn(), {
      name: text(data, 'name'),
      scopes,
      days: Number(text(data, 'days')),
    });
    revalidatePath('/account/tokens');
    return finished('The token is made. Copy it now: it is not shown again.', { secret });
  } catch (error) {
    return refused(error, { ...shownTextsOf(data), scopes: scopes.join(' ') });
  }
}

export async function revokeToken(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await revokePersonalToken(registry(), await signedIn(), { key: text(data, 'key') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/account/tokens');
  return finished('Ended.');
}

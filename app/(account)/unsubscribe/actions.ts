'use server';

import { type FormState, finished, text } from '@/app/ui/forms/formState';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { unsubscribe } from '@/lib/registry/accounts/noticeMail';
import { NotFound } from '@/lib/run/errors';

export async function endLetters(_state: FormState, data: FormData): Promise<FormState> {
  const token = text(data, 'token');
  try {
    if (!(await unsubscribe(registry(), { token }))) throw new NotFound('This link does not work any more.');
    return finished('Your letters have ended. You can close this page.');
  } catch (error) {
    return refused(error, { token });
  }
}

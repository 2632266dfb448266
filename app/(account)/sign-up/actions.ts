'use server';

import { type FormState, text, typedValues } from '@/app/visitor/formState';
import { problemOf } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { signUp } from '@/lib/registry/accounts/signUp';

/** Opens the account; the form signs in with the same password afterwards. */
export async function openAccount(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await signUp(registry(), {
      email: text(data, 'email'),
      displayName: text(data, 'displayName'),
      password: text(data, 'password'),
      stewardCode: text(data, 'stewardCode') || undefined,
    });
    return { done: 'Your account is open.', values: typedValues(data) };
  } catch (error) {
    return { problem: problemOf(error), values: typedValues(data) };
  }
}

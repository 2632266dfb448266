'use server';

import { type FormState, finished, text } from '@/app/ui/forms/formState';
import { mail } from '@/app/visitor/mail';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { proveAddress } from '@/lib/registry/accounts/proveAddress';

export async function confirmAddress(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await proveAddress(registry(), mail(), { token: text(data, 'token') });
    return finished('The address is confirmed. You can close this page.');
  } catch (error) {
    return refused(error, { token: text(data, 'token') });
  }
}

'use server';

import { redirect } from 'next/navigation';
import { type FormState, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { eraseAccount } from '@/lib/registry/privacy/eraseAccount';

export async function eraseOwnAccount(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const isConfirmed = text(data, 'isConfirmed') === 'yes';
    await eraseAccount(registry(), await signedIn(), { isConfirmed });
  } catch (error) {
    return refused(error);
  }
  redirect('/');
}

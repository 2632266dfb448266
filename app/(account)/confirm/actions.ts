'use server';

import { redirect } from 'next/navigation';
import { type FormState, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { proveSelf } from '@/lib/registry/accounts/proveSelf';
import { localPath } from '../sign-in/localPath';

export async function confirmSelf(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await proveSelf(registry(), await signedIn(), {
      password: text(data, 'password'),
      code: text(data, 'code'),
    });
  } catch (error) {
    return refused(error);
  }
  redirect(localPath(text(data, 'back') || undefined, '/account'));
}

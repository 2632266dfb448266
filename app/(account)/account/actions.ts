'use server';

import { redirect } from 'next/navigation';
import { type FormState, finished, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import { signOutEverywhere } from '@/lib/registry/accounts/signOutEverywhere';

export async function changeOwnPassword(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const { email } = await changePassword(registry(), await signedIn(), {
      currentPassword: text(data, 'currentPassword'),
      newPassword: text(data, 'newPassword'),
    });
    return finished('The password is changed; every other place is signed out.', { email });
  } catch (error) {
    return refused(error);
  }
}

export async function endAllSessions(): Promise<void> {
  await signOutEverywhere(registry(), await signedIn());
  redirect('/sign-in');
}

'use server';

import { redirect } from 'next/navigation';
import { signedIn } from '@/app/visitor/actor';
import { type FormState, text } from '@/app/visitor/formState';
import { problemOf } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import { signOutEverywhere } from '@/lib/registry/accounts/signOutEverywhere';

export async function changeOwnPassword(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const { email } = await changePassword(registry(), await signedIn(), {
      currentPassword: text(data, 'currentPassword'),
      newPassword: text(data, 'newPassword'),
    });
    return {
      done: 'The password is changed; every other place is signed out.',
      values: { email },
    };
  } catch (error) {
    return { problem: problemOf(error) };
  }
}

export async function endAllSessions(): Promise<void> {
  await signOutEverywhere(registry(), await signedIn());
  redirect('/sign-in');
}

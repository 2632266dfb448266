'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { becomeSteward } from '@/lib/registry/accounts/becomeSteward';
import { changePassword } from '@/lib/registry/accounts/changePassword';
import {
  beginSecondFactor,
  confirmSecondFactor,
  endSecondFactor,
} from '@/lib/registry/accounts/secondFactor';
import { endSignIn } from '@/lib/registry/accounts/signIns';
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

export async function enterStewardCode(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await becomeSteward(registry(), await signedIn(), { stewardCode: text(data, 'stewardCode') });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  // The role stands on this page, in the header's menu and on every page that it opens.
  revalidatePath('/', 'layout');
  redirect('/account');
}

export async function beginOwnSecondFactor(): Promise<FormState> {
  try {
    await beginSecondFactor(registry(), await signedIn());
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/account');
  return finished('');
}

/** The page is not made anew: the recovery codes stand on it once. */
export async function confirmOwnSecondFactor(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const input = { code: text(data, 'code') };
    const { recoveryCodes } = await confirmSecondFactor(registry(), await signedIn(), input);
    return finished('The second factor is in use: the next sign-in asks for a code.', {
      recoveryCodes: recoveryCodes.join(' '),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

export async function endOwnSecondFactor(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await endSecondFactor(registry(), await signedIn(), { code: text(data, 'code') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/account');
  return finished('The second factor is off.');
}

export async function endOneSignIn(_state: FormState, data: FormData): Promise<FormState> {
  let wasThisOne: boolean;
  try {
    ({ wasThisOne } = await endSignIn(registry(), await signedIn(), { key: text(data, 'key') }));
  } catch (error) {
    return refused(error);
  }
  if (wasThisOne) redirect('/sign-in');
  revalidatePath('/account');
  return finished('Signed out.');
}

export async function endAllSignIns(): Promise<void> {
  const actor = await signedIn();
  // Signed out already, perhaps in another window: that is what was asked for.
  if (actor !== undefined) await signOutEverywhere(registry(), actor);
  redirect('/sign-in');
}

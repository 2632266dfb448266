'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { mail } from '@/app/visitor/mail';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { removeLostFactor } from '@/lib/registry/accounts/removeLostFactor';
import { requireFactors } from '@/lib/registry/accounts/requireFactors';
import { setRole } from '@/lib/registry/accounts/setRole';
import { liftSuspension, suspendAccount } from '@/lib/registry/accounts/suspend';
import { vouchFor } from '@/lib/registry/accounts/vouch';

export async function changeRole(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await setRole(registry(), await signedIn(), {
      accountId: text(data, 'accountId'),
      role: text(data, 'role'),
    });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/people');
  return finished('Role changed; the account has to sign in again.');
}

export async function vouch(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await vouchFor(registry(), await signedIn(), { accountId: text(data, 'accountId') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/people');
  return finished('Vouched for: their runs may be ranked from the next fit on.');
}

export async function suspend(_state: FormState, data: FormData): Promise<FormState> {
  return changeStanding(suspendAccount, data, 'Suspended; the person was told why and how to appeal.');
}

export async function endSuspension(_state: FormState, data: FormData): Promise<FormState> {
  return changeStanding(liftSuspension, data, 'Lifted; the person was told.');
}

async function changeStanding(
  change: typeof suspendAccount,
  data: FormData,
  done: string,
): Promise<FormState> {
  try {
    await change(registry(), mail(), await signedIn(), {
      accountId: text(data, 'accountId'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/people');
  return finished(done);
}

export async function takeLostFactorOff(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await removeLostFactor(registry(), mail(), await signedIn(), {
      accountId: text(data, 'accountId'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/people');
  return finished('Taken off; the person was told and has to sign in again.');
}

export async function changeFactorRule(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const areRequired = text(data, 'areRequired') === 'yes';
    await requireFactors(registry(), await signedIn(), { areRequired });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/people');
  return finished('Changed.');
}

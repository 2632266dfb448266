'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { holdRun, liftHold } from '@/lib/registry/review/holdRun';
import { appealRun } from '@/lib/registry/runs/appealRun';
import { retractRun, withdrawRun } from '@/lib/registry/runs/retractRun';

/** Takes a run that waits for review back to a draft. */
export async function withdraw(_previous: FormState, data: FormData): Promise<FormState> {
  const runId = text(data, 'runId');
  try {
    await withdrawRun(registry(), await signedIn(), { runId });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/', 'layout');
  redirect(`/record/${runId}`);
}

/** Puts a rejected run before another reviewer. */
export async function appeal(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await appealRun(registry(), await signedIn(), { runId: text(data, 'runId'), words: text(data, 'words') });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/', 'layout');
  redirect(`/runs/${text(data, 'number')}`);
}

/** Takes an approved run out of the rankings, with the reason that every reader will see. */
export async function retract(_previous: FormState, data: FormData): Promise<FormState> {
  return withReason(retractRun, data);
}

/** Takes a run out of what counts until somebody lifts the hold. */
export async function hold(_previous: FormState, data: FormData): Promise<FormState> {
  return withReason(holdRun, data);
}

export async function lift(_previous: FormState, data: FormData): Promise<FormState> {
  return withReason(liftHold, data);
}

async function withReason(act: typeof retractRun, data: FormData): Promise<FormState> {
  try {
    await act(registry(), await signedIn(), { runId: text(data, 'runId'), reason: text(data, 'reason') });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/', 'layout');
  redirect(`/runs/${text(data, 'number')}`);
}

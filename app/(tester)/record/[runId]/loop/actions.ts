'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import type { FormState } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { chooseLoop } from '@/lib/registry/runs/chooseLoop';

/** Puts the loop whose button was pressed into the draft and goes back to its form. */
export async function takeLoop(_previous: FormState, data: FormData): Promise<FormState> {
  const runId = String(data.get('runId') ?? '');
  try {
    await chooseLoop(registry(), await signedIn(), {
      runId,
      draftVersion: Number(data.get('draftVersion')),
      loopId: String(data.get('loopId') ?? ''),
    });
  } catch (error) {
    return refused(error, {});
  }
  revalidatePath('/record', 'layout');
  redirect(`/record/${runId}?notice=loopChosen#part-loop`);
}

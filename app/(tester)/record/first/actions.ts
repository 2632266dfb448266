'use server';

import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { startFirstRun } from '@/lib/registry/runs/firstRun';

/** Opens the draft of the first run, with what the path has gathered. */
export async function beginFirstRun(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  let runId: string;
  try {
    ({ runId } = await startFirstRun(registry(), await signedIn(), form));
  } catch (error) {
    return refused(error, form);
  }
  redirect(`/record/${runId}`);
}

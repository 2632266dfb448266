'use server';

import { redirect } from 'next/navigation';
import type { FormState } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { startDraft } from '@/lib/registry/runs/startDraft';

/** Opens the draft of this button; pressed twice, it opens the same one. */
export async function startRun(_previous: FormState, data: FormData): Promise<FormState> {
  let runId: string;
  try {
    const creationKey = String(data.get('creationKey') ?? '');
    ({ runId } = await startDraft(registry(), await signedIn(), { creationKey }));
  } catch (error) {
    return refused(error, {});
  }
  redirect(`/record/${runId}`);
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { decideReReview } from '@/lib/registry/review/reReview';

/** What this reviewer would have decided, beside what was decided. */
export async function decideAgain(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await decideReReview(registry(), await signedIn(), {
      runId: text(data, 'runId'),
      kind: text(data, 'kind') || undefined,
      note: text(data, 'note'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/', 'layout');
  redirect('/queue');
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { signedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { addLoopFromTrace } from '@/lib/registry/loops/loopFromTrace';
import { type FormState, refused, textsOf } from '../../../formState';

/** Adds the loop with its route, legs and heights from the recording. */
export async function addProposedLoop(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  let slug: string;
  try {
    ({ slug } = await addLoopFromTrace(registry(), await signedIn(), { traceId: form.traceId ?? '', form }));
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(`/loops/${slug}`);
}

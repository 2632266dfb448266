'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { parseLoopCorrection } from '@/lib/capture/loopCorrection';
import { correctLoop, correctLoopSchema } from '@/lib/registry/loops/correctLoop';
import { parseForm } from '@/lib/run/parseForm';
import { proposedHref } from '../../../proposedHref';

/** Proposes what the form holds of a loop, or changes it where no run rests on it. */
export async function correctLoopFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const slug = form.slug ?? '';
  let href: string;
  try {
    const { input, ...rest } = parseLoopCorrection(form);
    const parsed = parseForm(correctLoopSchema, {
      input: { ...input, slug, reason: form.reason ?? '' },
      ...rest,
    });
    href = proposedHref(await correctLoop(registry(), await signedIn(), parsed), `/loops/${slug}`);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/loops', 'layout');
  redirect(href);
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { decideCorrection, withdrawCorrection } from '@/lib/registry/corrections/decideCorrection';

/** Records the one decision on a correction with all of its runs. */
export async function decide(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await decideCorrection(registry(), await signedIn(), {
      correctionId: text(data, 'correctionId'),
      computation: Number(text(data, 'computation')),
      kind: text(data, 'kind'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    revalidatePath('/corrections', 'layout');
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/', 'layout');
  redirect(`/corrections/${text(data, 'number')}`);
}

/** Takes an open correction back. */
export async function withdraw(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await withdrawCorrection(registry(), await signedIn(), { correctionId: text(data, 'correctionId') });
  } catch (error) {
    return refused(error);
  }
  revalidatePath('/corrections', 'layout');
  redirect(`/corrections/${text(data, 'number')}`);
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { DATA_SHEET_NUMBERS } from '@/lib/capture/vehicleFields';
import { correctModel, correctModelSchema } from '@/lib/registry/models/correctModel';
import { parseNumbers } from '@/lib/run/numberField';
import { parseForm } from '@/lib/run/parseForm';
import { proposedHref } from '../../../proposedHref';

/** Proposes what the form holds of a model, or changes it where no run rests on it. */
export async function correctModelFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const slug = form.slug ?? '';
  let href: string;
  try {
    const { values, issues } = parseNumbers(form, DATA_SHEET_NUMBERS);
    const input = parseForm(correctModelSchema, {
      input: {
        ...values,
        slug,
        bodyClass: form.bodyClass,
        dragAreaSource: form.dragAreaSource?.trim() || undefined,
        hasHeatPump: form.hasHeatPump === 'yes',
        reason: form.reason ?? '',
      },
      issues,
    });
    href = proposedHref(
      await correctModel(registry(), await signedIn(), input),
      `/models/${slug}#data-sheet`,
    );
  } catch (error) {
    // a box that was unticked is not sent, and must not come back as it was on file
    return refused(error, { hasHeatPump: '', ...form });
  }
  revalidatePath('/models', 'layout');
  redirect(href);
}

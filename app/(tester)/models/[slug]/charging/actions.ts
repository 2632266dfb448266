'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, finished, textsOf, UNTOUCHED } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { readChargingForm, toldAtRows, withMoreRows, withPastedRows } from '@/lib/capture/chargingForm';
import { stateCharging, stateChargingSchema } from '@/lib/registry/models/stateCharging';
import { parseForm } from '@/lib/run/parseForm';

/** States how a model charges, or gives the form back with more rows, or with what was pasted put into rows. */
export async function stateChargingFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  if (form.intent === 'moreRows') return { ...UNTOUCHED, values: withMoreRows(form) };
  if ((form.pasted ?? '').trim() !== '') {
    const { values, issues } = withPastedRows(form);
    return issues.length > 0 ? { title: '', issues, values } : finished(PASTED, values);
  }
  const { input, issues, told, rows } = readChargingForm(form);
  let slug: string;
  try {
    const raw = { modelId: form.modelId, ...input };
    const parsed = parseForm(stateChargingSchema, { input: raw, issues, told });
    ({ slug } = await stateCharging(registry(), await signedIn(), parsed));
  } catch (error) {
    return refused(toldAtRows(error, rows), form);
  }
  revalidatePath(`/models/${slug}`);
  redirect(`/models/${slug}#charging`);
}

const PASTED = 'The pasted rows stand in the table now. Look at them, then send the form.';

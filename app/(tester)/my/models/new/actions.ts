'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { MODEL_NUMBERS, MODEL_TEXTS } from '@/lib/capture/vehicleFields';
import { addModel, addModelSchema } from '@/lib/registry/models/addModel';
import { parseNumbers } from '@/lib/run/numberField';
import { parseForm } from '@/lib/run/parseForm';
import { missingTexts } from '@/lib/run/requiredText';
import { FIRST_RUN, waitingFor, waitingHref } from '../../../waiting';

/** Adds a model, then leads on to the car of that model. */
export async function addModelFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const run = waitingFor(form.run);
  let modelId: string;
  try {
    const { values, issues: numberIssues } = parseNumbers(form, MODEL_NUMBERS);
    const issues = [...missingTexts(form, MODEL_TEXTS), ...numberIssues];
    const { makerName, name, variant, bodyClass } = form;
    const dragAreaSource = form.dragAreaSource?.trim() || undefined;
    const hasHeatPump = form.hasHeatPump === 'yes';
    const raw = { makerName, name, variant, bodyClass, dragAreaSource, hasHeatPump, ...values };
    const input = parseForm(addModelSchema, { input: raw, issues });
    ({ modelId } = await addModel(registry(), await signedIn(), input));
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  if (run === FIRST_RUN) redirect(waitingHref(run, { model: modelId }));
  redirect(`/my/cars?model=${modelId}${run ? `&run=${run}` : ''}#add`);
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { CAR_NUMBERS, CAR_TEXTS } from '@/lib/capture/vehicleFields';
import { addCar, addCarSchema } from '@/lib/registry/cars/addCar';
import { parseNumbers } from '@/lib/run/numberField';
import { parseForm } from '@/lib/run/parseForm';
import { missingTexts } from '@/lib/run/requiredText';
import { waitingFor, waitingHref } from '../../waiting';

/** Adds a car, then leads to it or back to the run that waits for it. */
export async function addCarFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const run = waitingFor(form.run);
  let carId: string;
  try {
    const { values, issues: numberIssues } = parseNumbers(form, CAR_NUMBERS);
    const issues = [...missingTexts(form, CAR_TEXTS), ...numberIssues];
    const { modelId, name, ownValuesSource } = form;
    const input = parseForm(addCarSchema, { input: { modelId, name, ownValuesSource, ...values }, issues });
    ({ carId } = await addCar(registry(), await signedIn(), input));
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(run ? waitingHref(run) : `/my/cars/${carId}`);
}

'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { CALIBRATION_NUMBERS, CALIBRATION_TEXTS, CAR_NAME, CAR_NUMBERS } from '@/lib/capture/vehicleFields';
import { addCalibration, addCalibrationSchema, changeTyres } from '@/lib/registry/cars/calibrations';
import { changeCar, changeCarSchema } from '@/lib/registry/cars/changeCar';
import { parseNumbers } from '@/lib/run/numberField';
import { parseForm } from '@/lib/run/parseForm';
import { missingTexts } from '@/lib/run/requiredText';

/** Keeps a calibration of the car's speedometer or odometer. */
export async function addCalibrationFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const { carId, instrument, method, measuredOn, note } = form;
  try {
    const { values, issues: numberIssues } = parseNumbers(form, CALIBRATION_NUMBERS);
    const issues = [...missingTexts(form, CALIBRATION_TEXTS), ...numberIssues];
    const raw = { carId, instrument, method, measuredOn, note, ...values };
    const input = parseForm(addCalibrationSchema, { input: raw, issues });
    await addCalibration(registry(), await signedIn(), input);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my/cars', 'layout');
  redirect(`/my/cars/${carId}?notice=calibrated#calibrations`);
}

/** Replaces what is on file of the car by what the form holds. */
export async function changeCarFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const { carId, name, ownValuesSource } = form;
  try {
    const { values, issues: numberIssues } = parseNumbers(form, CAR_NUMBERS);
    const issues = [...missingTexts(form, [CAR_NAME]), ...numberIssues];
    const input = parseForm(changeCarSchema, { input: { carId, name, ownValuesSource, ...values }, issues });
    await changeCar(registry(), await signedIn(), input);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(`/my/cars/${carId}?notice=changed#facts`);
}

/** Ends the calibrations in force on the day of the change. */
export async function changeTyresFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const { carId, changedOn } = form;
  try {
    await changeTyres(registry(), await signedIn(), { carId, changedOn });
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my/cars', 'layout');
  redirect(`/my/cars/${carId}?notice=tyres#calibrations`);
}

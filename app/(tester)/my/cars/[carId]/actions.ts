'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { CALIBRATION_NUMBERS, CALIBRATION_TEXTS, CAR_NAME, CAR_NUMBERS } from '@/lib/capture/vehicleFields';
import {
  addCalibration,
  addCalibrationSchema,
  changeTyres,
  correctCalibration,
  correctCalibrationSchema,
  takeBackCalibration,
} from '@/lib/registry/cars/calibrations';
import { changeCar, changeCarSchema } from '@/lib/registry/cars/changeCar';
import { correctCar, correctCarSchema } from '@/lib/registry/cars/correctCar';
import { parseNumbers } from '@/lib/run/numberField';
import { parseForm } from '@/lib/run/parseForm';
import { missingTexts } from '@/lib/run/requiredText';
import { proposedHref } from '../../../proposedHref';

/** Keeps a calibration of the car's speedometer or odometer. */
export async function addCalibrationFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  let href: string;
  try {
    const input = parseForm(addCalibrationSchema, calibrationOf(form));
    const proposed = await addCalibration(registry(), await signedIn(), input);
    href = proposedHref(proposed, `/my/cars/${form.carId}?notice=calibrated#calibrations`);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my/cars', 'layout');
  redirect(href);
}

function calibrationOf(form: Record<string, string>) {
  const { carId, instrument, method, measuredOn, note } = form;
  const { values, issues } = parseNumbers(form, CALIBRATION_NUMBERS);
  return {
    input: { carId, instrument, method, measuredOn, note, ...values },
    issues: [...missingTexts(form, CALIBRATION_TEXTS), ...issues],
  };
}

/** Puts right a calibration that was entered wrongly. */
export async function correctCalibrationFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  let href: string;
  try {
    const { input: values, issues } = calibrationOf(form);
    const raw = { ...values, calibrationId: form.calibrationId, reason: form.reason ?? '' };
    const input = parseForm(correctCalibrationSchema, { input: raw, issues });
    const proposed = await correctCalibration(registry(), await signedIn(), input);
    href = proposedHref(proposed, `/my/cars/${form.carId}?notice=corrected#calibrations`);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my/cars', 'layout');
  redirect(href);
}

/** Takes back a calibration that never held. */
export async function takeBackCalibrationFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const { carId, calibrationId, reason = '' } = form;
  let href: string;
  try {
    const proposed = await takeBackCalibration(registry(), await signedIn(), {
      carId,
      calibrationId,
      reason,
    });
    href = proposedHref(proposed, `/my/cars/${carId}?notice=corrected#calibrations`);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my/cars', 'layout');
  redirect(href);
}

/** Replaces what is on file of the car by what the form holds: from now on, or as it should have been all along. */
export async function changeCarFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const { carId, name, ownValuesSource, holds } = form;
  let href = `/my/cars/${carId}?notice=changed#facts`;
  try {
    const { values, issues: numberIssues } = parseNumbers(form, CAR_NUMBERS);
    const issues = [...missingTexts(form, [CAR_NAME]), ...numberIssues];
    const raw = { carId, name, ownValuesSource, ...values };
    if (holds === 'fromNow') {
      await changeCar(registry(), await signedIn(), parseForm(changeCarSchema, { input: raw, issues }));
    } else {
      const input = parseForm(correctCarSchema, { input: { ...raw, reason: form.reason ?? '' }, issues });
      href = proposedHref(await correctCar(registry(), await signedIn(), input), href);
    }
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my', 'layout');
  redirect(href);
}

/** Ends the calibrations in force on the day of the change. */
export async function changeTyresFromForm(_previous: FormState, data: FormData): Promise<FormState> {
  const form = textsOf(data);
  const { carId, changedOn } = form;
  let href: string;
  try {
    const proposed = await changeTyres(registry(), await signedIn(), { carId, changedOn });
    href = proposedHref(proposed, `/my/cars/${carId}?notice=tyres#calibrations`);
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/my/cars', 'layout');
  redirect(href);
}

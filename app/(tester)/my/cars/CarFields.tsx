'use client';

import type { FormState } from '@/app/ui/forms/formState';
import { NumberFields, TextInput } from '@/app/ui/forms/NumberFields';
import { CAR_NUMBERS } from '@/lib/capture/vehicleFields';

export const CAR_ORDER = ['name', ...CAR_NUMBERS.map((field) => field.name), 'ownValuesSource'];

/** What an owner says of a car, when it is added and when it is changed. */
export function CarFields({ state }: { state: FormState }) {
  return (
    <>
      <TextInput
        state={state}
        name="name"
        label="Name of the car"
        required
        maxLength={60}
        autoComplete="off"
        hint="For example by its colour. Readers may see it: never a plate or an identification number."
      />
      <NumberFields fields={CAR_NUMBERS} state={state} />
      <TextInput
        state={state}
        name="ownValuesSource"
        label="Source of what you measured on this car"
        hint="Needed with a drag area, rolling resistance, coast-down, or a capacity with its give or take; for example “coast-down of 3 May, both directions”."
        maxLength={300}
      />
    </>
  );
}

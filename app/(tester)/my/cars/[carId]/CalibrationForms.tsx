'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { type FormState, UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields, TextInput } from '@/app/ui/forms/NumberFields';
import { CALIBRATION_NUMBERS } from '@/lib/capture/vehicleFields';
import { addCalibrationFromForm, changeTyresFromForm } from './actions';

export const CALIBRATION_ORDER = [
  'instrument',
  'measuredOn',
  'method',
  ...CALIBRATION_NUMBERS.map((field) => field.name),
  'note',
];
const TYRE_ORDER = ['changedOn'];

/** What is said of a calibration, when it is added and when it is put right. */
export function CalibrationFields({ state }: { state: FormState }) {
  return (
    <>
      <ChoiceField
        name="instrument"
        label="Instrument"
        kind="radio"
        inline
        required
        options={[
          { value: 'speedometer', label: 'Speedometer' },
          { value: 'odometer', label: 'Odometer' },
        ]}
        defaultValue={state.values.instrument ?? 'speedometer'}
        error={errorOf(state.issues, 'instrument')}
      />
      <TextInput
        state={state}
        name="measuredOn"
        label="Measured on"
        type="date"
        required
        hint="A calibration ages: rules ask how old it is."
      />
      <TextInput
        state={state}
        name="method"
        label="Method"
        required
        maxLength={200}
        hint="Against what and how, for example “satellite positioning, 20 km held at 110 km/h”."
      />
      <NumberFields fields={CALIBRATION_NUMBERS} state={state} />
      <TextInput state={state} name="note" label="Note" maxLength={500} />
    </>
  );
}

export function AddCalibration({ carId }: { carId: string }) {
  const [state, dispatch] = useActionState(addCalibrationFromForm, UNTOUCHED);
  return (
    <FormFrame
      label="Add a calibration"
      state={state}
      dispatch={dispatch}
      submitText="Keep the calibration"
      order={CALIBRATION_ORDER}
    >
      <input type="hidden" name="carId" value={carId} />
      <CalibrationFields state={state} />
    </FormFrame>
  );
}

export function ChangeTyres({ carId }: { carId: string }) {
  const [state, dispatch] = useActionState(changeTyresFromForm, UNTOUCHED);
  return (
    <FormFrame
      label="Change tyres"
      state={state}
      dispatch={dispatch}
      submitText="End the calibrations"
      order={TYRE_ORDER}
    >
      <input type="hidden" name="carId" value={carId} />
      <TextInput
        state={state}
        name="changedOn"
        label="Tyres changed on"
        type="date"
        required
        hint="Other tyres roll another distance per turn: every calibration in force ends on that day."
      />
    </FormFrame>
  );
}

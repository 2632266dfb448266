'use client';

import Link from 'next/link';
import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/ChoiceField';
import { CAR_NUMBERS } from '@/lib/capture/vehicleFields';
import type { ModelChoice } from '@/lib/registry/views/myCars';
import { NumberFields, TextInput } from '../../FormFields';
import { FormFrame } from '../../FormFrame';
import { errorOf } from '../../fieldErrors';
import { UNTOUCHED } from '../../formState';
import { addCarFromForm } from './actions';

const ORDER = ['modelId', 'name', ...CAR_NUMBERS.map((field) => field.name), 'ownValuesSource'];

interface AddCarProps {
  models: readonly ModelChoice[];
  modelId: string | undefined;
  run: string | undefined;
}

export function AddCar({ models, modelId, run }: AddCarProps) {
  const [state, dispatch] = useActionState(addCarFromForm, UNTOUCHED);
  return (
    <FormFrame
      label="Add a car"
      state={state}
      dispatch={dispatch}
      submitText="Add the car"
      order={ORDER}
      run={run}
    >
      <div>
        <ChoiceField
          name="modelId"
          label="Model"
          required
          emptyLabel="Choose the model"
          options={models.map((model) => ({ value: model.id, label: model.label }))}
          defaultValue={state.values.modelId ?? modelId ?? ''}
          error={errorOf(state.issues, 'modelId')}
        />
        <p className="mt-1.5 text-sm">
          <Link
            href={`/my/models/new${run ? `?run=${run}` : ''}`}
            className="link inline-flex min-h-6 items-center"
          >
            Not in the list? Add the model
          </Link>
        </p>
      </div>
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
        label="Source of drag area and rolling resistance"
        hint="Needed where you enter one of them, for example “coast-down of 3 May, both directions”."
        maxLength={300}
      />
    </FormFrame>
  );
}

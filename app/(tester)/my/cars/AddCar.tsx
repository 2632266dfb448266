'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { Link } from '@/app/ui/Link';
import type { ModelChoice } from '@/lib/registry/cars/carChoices';
import { addCarFromForm } from './actions';
import { CAR_ORDER, CarFields } from './CarFields';

const ORDER = ['modelId', ...CAR_ORDER];

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
      <CarFields state={state} />
    </FormFrame>
  );
}

'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { beginFirstRun } from './actions';

interface BeginRunProps {
  creationKey: string;
  cars: readonly { id: string; name: string }[];
  loopId: string;
}

/** The last step: one button, and the choice of the car where there are several. */
export function BeginRun({ creationKey, cars, loopId }: BeginRunProps) {
  const [state, dispatch] = useActionState(beginFirstRun, UNTOUCHED);
  const [only] = cars;
  return (
    <FormFrame
      label="Begin the first run"
      state={state}
      dispatch={dispatch}
      submitText="Begin the first run"
      order={['carId']}
    >
      <input type="hidden" name="creationKey" value={creationKey} />
      <input type="hidden" name="loopId" value={loopId} />
      {cars.length === 1 && only ? (
        <input type="hidden" name="carId" value={only.id} />
      ) : (
        <ChoiceField
          name="carId"
          label="Car"
          required
          options={cars.map(({ id, name }) => ({ value: id, label: name }))}
          defaultValue={state.values.carId ?? ''}
          emptyLabel="Choose the car"
          error={errorOf(state.issues, 'carId')}
        />
      )}
    </FormFrame>
  );
}

'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { CAR_ORDER, CarFields } from '../../CarFields';
import { changeCarFromForm } from '../actions';

interface ChangeCarProps {
  carId: string;
  /** What is on file, as the form takes it. */
  values: Readonly<Record<string, string>>;
}

export function ChangeCar({ carId, values }: ChangeCarProps) {
  const [state, dispatch] = useActionState(changeCarFromForm, { ...UNTOUCHED, values });
  return (
    <FormFrame
      label="Change the car"
      state={state}
      dispatch={dispatch}
      submitText="Keep these values"
      order={CAR_ORDER}
    >
      <input type="hidden" name="carId" value={carId} />
      <CarFields state={state} />
    </FormFrame>
  );
}

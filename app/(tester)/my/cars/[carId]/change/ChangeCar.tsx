'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { TextInput } from '@/app/ui/forms/NumberFields';
import { CAR_ORDER, CarFields } from '../../CarFields';
import { changeCarFromForm } from '../actions';

interface ChangeCarProps {
  carId: string;
  /** Whether any run was sent with it. */
  hasRuns: boolean;
  /** What is on file, as the form takes it. */
  values: Readonly<Record<string, string>>;
}

export function ChangeCar({ carId, hasRuns, values }: ChangeCarProps) {
  const [state, dispatch] = useActionState(changeCarFromForm, { ...UNTOUCHED, values });
  return (
    <FormFrame
      label="Change the car"
      state={state}
      dispatch={dispatch}
      submitText="Keep these values"
      order={[...CAR_ORDER, 'holds', 'reason']}
    >
      <input type="hidden" name="carId" value={carId} />
      <CarFields state={state} />
      {hasRuns ? (
        <>
          <ChoiceField
            name="holds"
            label="Since when it is so"
            kind="radio"
            required
            defaultValue={state.values.holds ?? 'always'}
            error={errorOf(state.issues, 'holds')}
            options={[
              {
                value: 'always',
                label: 'It was so all along: what is on file is wrong',
                hint: 'Runs that were computed from it are corrected as well, once a reviewer has approved that.',
              },
              {
                value: 'fromNow',
                label: 'The car has changed: it is so from now on',
                hint: 'Runs that were sent before stay as they are.',
              },
            ]}
          />
          <TextInput
            state={state}
            name="reason"
            label="What was wrong, and how you know"
            hint="Needed where it was so all along: a reviewer decides by it, and it stands beside each run."
            multiline
            rows={3}
            maxLength={2000}
          />
        </>
      ) : (
        <input type="hidden" name="holds" value="fromNow" />
      )}
    </FormFrame>
  );
}

'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields, TextInput } from '@/app/ui/forms/NumberFields';
import { MODEL_NUMBERS } from '@/lib/capture/vehicleFields';
import { BODY_CLASSES } from '@/lib/run/bodyClass';
import { ModelSheetFields } from '../../../ModelSheetFields';
import { addModelFromForm } from './actions';

const ORDER = [
  ...['makerName', 'name', 'variant', 'bodyClass'],
  ...MODEL_NUMBERS.map((field) => field.name),
  'dragAreaSource',
];

export function AddModel({ run }: { run: string | undefined }) {
  const [state, dispatch] = useActionState(addModelFromForm, UNTOUCHED);
  const text = { state, maxLength: 80, autoComplete: 'off' } as const;
  return (
    <FormFrame
      label="Add a model"
      state={state}
      dispatch={dispatch}
      submitText="Add the model"
      order={ORDER}
      run={run}
    >
      <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
        <TextInput {...text} name="makerName" label="Maker" required hint="As the maker writes it." />
        <TextInput {...text} name="name" label="Model" required hint="Without maker, year and variant." />
        <TextInput
          {...text}
          name="variant"
          label="Variant"
          hint="Battery, drive or trim, where there are several."
        />
        <ChoiceField
          name="bodyClass"
          label="Body class"
          required
          emptyLabel="Choose the class"
          hint="Sets the drag area that is assumed where none is known."
          options={BODY_CLASSES}
          defaultValue={state.values.bodyClass ?? ''}
          error={errorOf(state.issues, 'bodyClass')}
        />
      </div>
      <NumberFields fields={MODEL_NUMBERS} state={state} />
      <ModelSheetFields state={state} />
    </FormFrame>
  );
}

'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields } from '@/app/ui/forms/NumberFields';
import { DATA_SHEET_NUMBERS } from '@/lib/capture/vehicleFields';
import { BODY_CLASSES } from '@/lib/run/bodyClass';
import { ModelSheetFields } from '../../../ModelSheetFields';
import { ReasonField } from '../../../ReasonField';
import { correctModelFromForm } from './actions';

const ORDER = ['bodyClass', ...DATA_SHEET_NUMBERS.map(({ name }) => name), 'dragAreaSource', 'reason'];

interface CorrectModelProps {
  slug: string;
  /** What is on file, as the form takes it. */
  values: Readonly<Record<string, string>>;
}

export function CorrectModel({ slug, values }: CorrectModelProps) {
  const [state, dispatch] = useActionState(correctModelFromForm, { ...UNTOUCHED, values });
  return (
    <FormFrame
      label="Correct the data sheet"
      state={state}
      dispatch={dispatch}
      submitText="Propose the correction"
      order={ORDER}
    >
      <input type="hidden" name="slug" value={slug} />
      <ChoiceField
        name="bodyClass"
        label="Body class"
        required
        options={BODY_CLASSES}
        defaultValue={state.values.bodyClass ?? ''}
        error={errorOf(state.issues, 'bodyClass')}
      />
      <NumberFields fields={DATA_SHEET_NUMBERS} state={state} />
      <ModelSheetFields state={state} />
      <ReasonField state={state} />
    </FormFrame>
  );
}

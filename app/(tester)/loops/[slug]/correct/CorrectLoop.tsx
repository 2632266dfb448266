'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields, TextInput } from '@/app/ui/forms/NumberFields';
import { LOOP_NUMBERS } from '@/lib/capture/loopForm';
import { BearingRows } from '../../../my/loops/new/BearingRows';
import { ReasonField } from '../../../ReasonField';
import { correctLoopFromForm } from './actions';

const LEGS = ['outboundLengthM', 'outboundClimbM'];
const of = (isLeg: boolean) => LOOP_NUMBERS.filter(({ name }) => LEGS.includes(name) === isLeg);

const ORDER = [
  ...['region', 'turnaround', 'description', 'lengthSource'],
  ...LOOP_NUMBERS.map(({ name }) => name),
  'reason',
];

interface CorrectLoopProps {
  slug: string;
  /** What is on file, as the form takes it. */
  values: Readonly<Record<string, string>>;
}

export function CorrectLoop({ slug, values }: CorrectLoopProps) {
  const [state, dispatch] = useActionState(correctLoopFromForm, { ...UNTOUCHED, values });
  return (
    <FormFrame
      label="Correct the loop"
      state={state}
      dispatch={dispatch}
      submitText="Propose the correction"
      order={ORDER}
    >
      <input type="hidden" name="slug" value={slug} />
      <FormSection legend="In words" step={{ number: 1, of: 4 }}>
        <TextInput state={state} name="region" label="Region" required maxLength={80} />
        <TextInput state={state} name="turnaround" label="Turnaround" required maxLength={120} />
        <TextInput state={state} name="description" label="Description" multiline maxLength={2000} />
      </FormSection>
      <FormSection legend="In numbers" step={{ number: 2, of: 4 }}>
        <TextInput
          state={state}
          name="lengthSource"
          label="How the length was found"
          required
          maxLength={200}
        />
        <NumberFields fields={of(false)} state={state} />
      </FormSection>
      <FormSection
        legend="Legs and directions"
        step={{ number: 3, of: 4 }}
        hint="Where all of these stay empty, legs and directions stay as they are on file."
      >
        <NumberFields fields={of(true)} state={state} />
        <BearingRows leg="outbound" state={state} />
        <BearingRows leg="return" state={state} />
      </FormSection>
      <FormSection legend="Why" step={{ number: 4, of: 4 }}>
        <ReasonField state={state} />
      </FormSection>
    </FormFrame>
  );
}

'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields, TextInput } from '@/app/ui/forms/NumberFields';
import { LOOP_NUMBERS } from '@/lib/capture/loopForm';
import { LoopWords } from '../LoopWords';
import { addProposedLoop } from './actions';

/** Legs and their directions come with the recording. */
const NUMBERS = LOOP_NUMBERS.filter(({ name }) => !name.startsWith('outbound'));
const NAMES = [
  'name',
  'region',
  'turnaround',
  'description',
  ...NUMBERS.map(({ name }) => name),
  'lengthSource',
];

interface AddProposedProps {
  traceId: string;
  values: Record<string, string>;
  run?: string | undefined;
}

/** The form of a loop, filled from the recording; whatever is better known can be put right. */
export function AddProposed({ traceId, values, run }: AddProposedProps) {
  const [state, dispatch] = useActionState(addProposedLoop, { ...UNTOUCHED, values });
  return (
    <FormFrame
      label="Add this loop"
      state={state}
      dispatch={dispatch}
      submitText="Add the loop"
      order={NAMES}
      run={run}
    >
      <input type="hidden" name="traceId" value={traceId} />
      <FormSection legend="What a recording cannot know" step={{ number: 1, of: 2 }}>
        <LoopWords state={state} />
        <NumberFields fields={NUMBERS.filter(({ name }) => name === 'postedLimitMps')} state={state} />
      </FormSection>
      <FormSection legend="From the recording" step={{ number: 2, of: 2 }}>
        <NumberFields fields={NUMBERS.filter(({ name }) => name !== 'postedLimitMps')} state={state} />
        <TextInput
          state={state}
          name="lengthSource"
          label="How the length was found"
          required
          maxLength={200}
        />
      </FormSection>
    </FormFrame>
  );
}

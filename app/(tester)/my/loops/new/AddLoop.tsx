'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields, NumberInput, TextInput } from '@/app/ui/forms/NumberFields';
import { LOOP_NUMBERS } from '@/lib/capture/loopForm';
import { LoopWords } from '../LoopWords';
import { addLoopFromForm } from './actions';
import { BearingRows } from './BearingRows';

const numbers = (...names: string[]) => LOOP_NUMBERS.filter((field) => names.includes(field.name));

const ORDER = [
  ...['name', 'region', 'turnaround', 'description', 'postedLimitMps', 'lengthM', 'lengthUncertaintyM'],
  ...['lengthSource', 'sharedRouteShare', 'offCruiseShare', 'altitudeM', 'netClimbM', 'grossClimbM'],
  ...['closureDistanceM', 'closureHeightM', 'outboundLengthM', 'outboundClimbM'],
];

export function AddLoop({ run }: { run: string | undefined }) {
  const [state, dispatch] = useActionState(addLoopFromForm, UNTOUCHED);
  return (
    <FormFrame
      label="Add a loop"
      state={state}
      dispatch={dispatch}
      submitText="Add the loop"
      order={ORDER}
      run={run}
    >
      <FormSection legend="The route" step={{ number: 1, of: 4 }}>
        <LoopWords state={state} />
        {numbers('postedLimitMps').map((field) => (
          <NumberInput key={field.name} field={field} state={state} />
        ))}
      </FormSection>
      <FormSection legend="Length" step={{ number: 2, of: 4 }}>
        <NumberFields fields={numbers('lengthM', 'lengthUncertaintyM')} state={state} />
        <TextInput
          state={state}
          name="lengthSource"
          label="How the length was found"
          required
          maxLength={200}
          hint="For example “mean of five satellite traces” or “map, measured along the lane”."
        />
        <NumberFields fields={numbers('sharedRouteShare', 'offCruiseShare')} state={state} />
      </FormSection>
      <FormSection legend="Height and closure" step={{ number: 3, of: 4 }}>
        <NumberFields
          fields={numbers('altitudeM', 'netClimbM', 'grossClimbM', 'closureDistanceM', 'closureHeightM')}
          state={state}
        />
      </FormSection>
      <FormSection
        legend="Legs and directions"
        step={{ number: 4, of: 4 }}
        hint="Wind acts along and across the road, so the loop has to say which way it runs. A straight road is one row with 100 %."
      >
        <NumberFields fields={numbers('outboundLengthM', 'outboundClimbM')} state={state} />
        <BearingRows leg="outbound" state={state} />
        <details
          open={Object.keys(state.values).some((name) => name.startsWith('return') && state.values[name])}
        >
          <summary className="disclosure">The way back runs elsewhere</summary>
          <div className="pt-4">
            <BearingRows leg="return" state={state} />
          </div>
        </details>
      </FormSection>
    </FormFrame>
  );
}

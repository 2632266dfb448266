'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberFields, NumberInput, TextInput } from '@/app/ui/forms/NumberFields';
import { LENGTH_KNOWN, LOOP_DEFAULTS, LOOP_NUMBERS } from '@/lib/capture/loopForm';
import { LoopWords } from '../LoopWords';
import { addLoopFromForm } from './actions';
import { BearingRows } from './BearingRows';

const numbers = (...names: string[]) => LOOP_NUMBERS.filter((field) => names.includes(field.name));

const STATED: readonly string[] = ['lengthUncertaintyM', 'lengthSource'];
/** Asked only of who knows it: otherwise the words above say it. */
const UNCERTAINTY = numbers('lengthUncertaintyM').map((field) => ({ ...field, isRequired: false }));

const ORDER = [
  ...[
    'name',
    'region',
    'turnaround',
    'description',
    'postedLimitMps',
    'lengthM',
    'lengthKnown',
    'lengthUncertaintyM',
  ],
  ...['lengthSource', 'sharedRouteShare', 'offCruiseShare', 'altitudeM', 'netClimbM', 'grossClimbM'],
  ...['closureDistanceM', 'closureHeightM', 'outboundLengthM', 'outboundClimbM'],
];

export function AddLoop({ run }: { run: string | undefined }) {
  const [state, dispatch] = useActionState(addLoopFromForm, { ...UNTOUCHED, values: LOOP_DEFAULTS });
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
        <NumberFields fields={numbers('lengthM')} state={state} />
        <input type="hidden" name="lengthKnown" value="" />
        <ChoiceField
          name="lengthKnown"
          label="How well do you know it?"
          kind="radio"
          options={[
            ...LENGTH_KNOWN.map(({ value, label }) => ({ value, label })),
            { value: 'stated', label: 'I know by how much it may be off, and say so below' },
          ]}
          defaultValue={state.values.lengthKnown ?? ''}
          error={errorOf(state.issues, 'lengthKnown')}
        />
        <details open={state.issues.some(({ path }) => STATED.includes(path)) || undefined}>
          <summary className="disclosure">By how much it may be off, and how it was found</summary>
          <div className="space-y-6 pt-4">
            <NumberFields fields={UNCERTAINTY} state={state} />
            <TextInput
              state={state}
              name="lengthSource"
              label="How the length was found"
              maxLength={200}
              hint="For example “mean of five satellite traces” or “map, measured along the lane”."
            />
          </div>
        </details>
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

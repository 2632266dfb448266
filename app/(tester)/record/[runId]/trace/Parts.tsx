'use client';

import { useActionState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { KeptForm } from '@/app/ui/forms/KeptForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { Notice } from '@/app/ui/Notice';
import type { DraftTrace } from '@/lib/registry/traces/draftTrace';
import { formatDuration } from '@/lib/units/format';
import { change, takeOff } from './actions';

/** Which part of a recording is the run, and how much of its ends stays hidden. */
export function Parts({ runId, trace }: { runId: string; trace: DraftTrace }) {
  const [state, dispatch] = useActionState(change, UNTOUCHED);
  const chosen = trace.parts.find((part) => part.isChosen);
  return (
    <FormFrame label="Part and ends" state={state} dispatch={dispatch} submitText="Work it out anew">
      <input type="hidden" name="runId" value={runId} />
      {trace.parts.length > 0 ? (
        <ChoiceField
          name="window"
          label="Part of the recording that is this run"
          kind="radio"
          options={[
            ...trace.parts.map((part) => ({
              value: `${part.window.startMs}-${part.window.endMs}`,
              label: `${part.start}, ${formatDuration(part.durationS)} h`,
            })),
            { value: 'whole', label: 'All of it' },
          ]}
          defaultValue={
            chosen ? `${chosen.window.startMs}-${chosen.window.endMs}` : trace.isWhole ? 'whole' : ''
          }
        />
      ) : null}
      <TextField
        name="trimM"
        label="Hidden around start and finish, m"
        inputMode="numeric"
        autoComplete="off"
        hint="500 m or more. Readers see neither the track within this distance nor where on earth it lies."
        defaultValue={state.values.trimM ?? String(trace.trimM)}
        error={errorOf(state.issues, 'trimM')}
      />
    </FormFrame>
  );
}

export function TakeOff({ runId }: { runId: string }) {
  const [state, dispatch] = useActionState(takeOff, UNTOUCHED);
  return (
    <KeptForm dispatch={dispatch} label="Take the recording off">
      {state.title ? <Notice kind="problem" title={state.title} live /> : null}
      <input type="hidden" name="runId" value={runId} />
      <SubmitButton variant="secondary">Take the recording off this run</SubmitButton>
    </KeptForm>
  );
}

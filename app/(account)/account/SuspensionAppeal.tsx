'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { appealOwnSuspension } from './suspensionActions';

/** Once a suspension: what the stewards overlooked. */
export function SuspensionAppeal() {
  return (
    <ActionForm label="Appeal against the suspension" action={appealOwnSuspension}>
      {({ value, error, state }) =>
        state.done ? null : (
          <>
            <TextField
              name="words"
              label="What the stewards overlooked"
              hint="They read it beside the reason. This can be done once."
              multiline
              required
              maxLength={2000}
              defaultValue={value('words')}
              error={error('words')}
            />
            <SubmitButton pendingText="Sending…">Send the appeal</SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

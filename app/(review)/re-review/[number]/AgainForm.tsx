'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { decideAgain } from './actions';

export function AgainForm({ runId, number }: { runId: string; number: number }) {
  return (
    <ActionForm action={decideAgain} label={`Run ${number}, read again`}>
      {({ value, error }) => (
        <>
          <input type="hidden" name="runId" value={runId} />
          <ChoiceField
            name="kind"
            label="Decision"
            kind="radio"
            required
            defaultValue={value('kind')}
            error={error('kind')}
            options={[
              { value: 'approve', label: 'Approve' },
              { value: 'askChanges', label: 'Ask for changes' },
              { value: 'reject', label: 'Reject' },
            ]}
          />
          <TextField
            name="note"
            label="Why"
            hint="Needed for anything but an approval."
            multiline
            maxLength={2000}
            defaultValue={value('note')}
            error={error('note')}
          />
          <SubmitButton pendingText="Recording…">Record it</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { decide } from './actions';

interface DecideFormProps {
  correctionId: string;
  number: number;
  /** What was read: another computation is another correction to read. */
  computation: number;
  runs: number;
  isApprovable: boolean;
}

/** One decision on all of it, with one reason. */
export function DecideForm({ correctionId, number, computation, runs, isApprovable }: DecideFormProps) {
  return (
    <ActionForm action={decide} label={`Decision on correction ${number}`}>
      {({ value, error }) => (
        <>
          <input type="hidden" name="correctionId" value={correctionId} />
          <input type="hidden" name="number" value={number} />
          <input type="hidden" name="computation" value={computation} />
          <ChoiceField
            name="kind"
            label="Decision"
            kind="radio"
            required
            defaultValue={value('kind')}
            error={error('kind')}
            options={[
              {
                value: 'approve',
                label: runs === 1 ? 'Approve, with its run' : `Approve, with all ${runs} runs`,
                hint: isApprovable
                  ? 'The value is corrected, and the new numbers count from the next fit on. There is no way back but another correction.'
                  : 'Not possible: some of its runs could not be computed.',
                disabled: !isApprovable,
              },
              { value: 'reject', label: 'Reject', hint: 'Nothing changes.' },
            ]}
          />
          <TextField
            name="reason"
            label="Reason"
            hint="What you checked, or what is wrong. It stands in the trail of every run of it."
            multiline
            required
            maxLength={2000}
            defaultValue={value('reason')}
            error={error('reason')}
          />
          <SubmitButton pendingText="Recording…">Record the decision</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

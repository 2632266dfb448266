'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import type { ReasonChoice } from '@/lib/protocol/reasons';
import { decide } from './actions';
import { DecisionKeys } from './DecisionKeys';
import { ReasonFields } from './ReasonFields';

interface DecisionFormProps {
  runId: string;
  number: number;
  /** The revision that is being read. */
  revisionNumber: number;
  isApprovable: boolean;
  failed: readonly ReasonChoice[];
  cautioned: readonly ReasonChoice[];
  others: readonly ReasonChoice[];
}

/** Approve, ask for changes or reject, with a reason for each rule that the tester must answer. */
export function DecisionForm(props: DecisionFormProps) {
  const { runId, number, revisionNumber, isApprovable, failed, cautioned, others } = props;
  return (
    <>
      <ActionForm action={decide} label={`Decision on run ${number}`}>
        {(help) => (
          <>
            <input type="hidden" name="runId" value={runId} />
            <input type="hidden" name="number" value={number} />
            <input type="hidden" name="revisionNumber" value={revisionNumber} />
            <ChoiceField
              name="kind"
              label="Decision"
              kind="radio"
              required
              defaultValue={help.value('kind')}
              error={help.error('kind')}
              options={[
                {
                  value: 'approve',
                  label: 'Approve',
                  hint: isApprovable
                    ? 'It counts from the next fit on.'
                    : 'Not possible: a rule of its protocol failed.',
                  disabled: !isApprovable,
                },
                {
                  value: 'askChanges',
                  label: 'Ask for changes',
                  hint: 'The tester corrects it and sends it again.',
                },
                {
                  value: 'reject',
                  label: 'Reject',
                  hint: 'Final. The run stays in the record, seen by its tester and reviewers.',
                },
              ]}
            />
            <ReasonFields help={help} failed={failed} cautioned={cautioned} others={others} />
            <TextField
              name="note"
              label="Note"
              hint="Optional; it stands in the review trail, which is public once the run is."
              multiline
              maxLength={4000}
              defaultValue={help.value('note')}
              error={help.error('note')}
            />
            <SubmitButton pendingText="Recording…">Record the decision</SubmitButton>
          </>
        )}
      </ActionForm>
      <DecisionKeys />
    </>
  );
}

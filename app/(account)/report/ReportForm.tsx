'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { REPORT_REASONS, type ReportedKind } from '@/lib/run/reports';
import { report } from './actions';

const REASONS = Object.entries(REPORT_REASONS).map(([value, label]) => ({ value, label }));

/** What is wrong, from a short list and in words. */
export function ReportForm({ kind, of }: { kind: ReportedKind; of: string }) {
  return (
    <ActionForm label="Report" action={report}>
      {({ value, error, state }) =>
        state.done ? null : (
          <>
            <input type="hidden" name="kind" value={kind} />
            <input type="hidden" name="key" value={of} />
            <ChoiceField
              name="reason"
              label="What is wrong"
              kind="radio"
              required
              options={REASONS}
              defaultValue={value('reason')}
              error={error('reason')}
            />
            <TextField
              name="words"
              label="What you saw, and where"
              multiline
              required
              maxLength={1000}
              defaultValue={value('words')}
              error={error('words')}
            />
            <SubmitButton pendingText="Sending…">Send the report</SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { REPORT_DECISIONS } from '@/lib/run/reports';
import { settle } from './actions';

const DECISIONS = Object.entries(REPORT_DECISIONS).map(([value, label]) => ({ value, label }));

/** What came of a report, and what its sender is told. */
export function SettleForm({ reportId, about }: { reportId: string; about: string }) {
  return (
    <details className="no-print">
      <summary className="disclosure">
        Settle it<span className="sr-only">: {about}</span>
      </summary>
      <ActionForm label={`Settle the report on ${about}`} action={settle}>
        {({ value, error }) => (
          <>
            <input type="hidden" name="reportId" value={reportId} />
            <ChoiceField
              name="decision"
              id={`decision-${reportId}`}
              label="What came of it"
              kind="select"
              emptyLabel="Choose"
              required
              options={DECISIONS}
              defaultValue={value('decision')}
              error={error('decision')}
            />
            <TextField
              name="answer"
              id={`answer-${reportId}`}
              label="What its sender is told"
              multiline
              required
              maxLength={1000}
              defaultValue={value('answer')}
              error={error('answer')}
            />
            <SubmitButton pendingText="Settling…">Settle</SubmitButton>
          </>
        )}
      </ActionForm>
    </details>
  );
}

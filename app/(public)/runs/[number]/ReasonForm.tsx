'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import type { FormState } from '@/app/ui/forms/formState';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';

interface ReasonFormProps {
  runId: string;
  number: number;
  id: string;
  action: (previous: FormState, data: FormData) => Promise<FormState>;
  /** Of the disclosure and, with the run's number, of the button. */
  verb: string;
  pending: string;
  label: string;
  hint: string;
  isFinal?: boolean;
}

/** Something that a reason is asked for: folded away, as it is seldom done. */
export function ReasonForm({
  runId,
  number,
  id,
  action,
  verb,
  pending,
  label,
  hint,
  isFinal,
}: ReasonFormProps) {
  return (
    <details className="no-print mt-4" id={id}>
      <summary className={isFinal ? 'disclosure disclosure-problem' : 'disclosure'}>{verb} this run</summary>
      <div className="mt-3">
        <ActionForm action={action} label={`${verb} run ${number}`}>
          {({ value, error }) => (
            <>
              <input type="hidden" name="runId" value={runId} />
              <input type="hidden" name="number" value={number} />
              <TextField
                name="reason"
                label={label}
                hint={hint}
                multiline
                required
                maxLength={2000}
                defaultValue={value('reason')}
                error={error('reason')}
              />
              <SubmitButton variant={isFinal ? 'danger' : 'secondary'} pendingText={pending}>
                {verb} run {number}
              </SubmitButton>
            </>
          )}
        </ActionForm>
      </div>
    </details>
  );
}

'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { appeal } from './actions';

/** Once a revision: what the reviewer overlooked, for another one to read. */
export function AppealForm({ runId, number }: { runId: string; number: number }) {
  return (
    <details className="no-print mt-4" id="appeal">
      <summary className="disclosure">Appeal against the rejection</summary>
      <div className="mt-3">
        <ActionForm action={appeal} label={`Appeal for run ${number}`}>
          {({ value, error }) => (
            <>
              <input type="hidden" name="runId" value={runId} />
              <input type="hidden" name="number" value={number} />
              <TextField
                name="words"
                label="What was overlooked"
                hint="Another reviewer reads it beside the reasons and decides anew. This can be done once; where something is to be corrected, record the run again instead."
                multiline
                required
                maxLength={2000}
                defaultValue={value('words')}
                error={error('words')}
              />
              <SubmitButton pendingText="Sending…">Send the appeal</SubmitButton>
            </>
          )}
        </ActionForm>
      </div>
    </details>
  );
}

'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { retract } from './actions';

/** Out of the rankings for good: folded away, with a reason that stays beside the run. */
export function RetractForm({ runId, number }: { runId: string; number: number }) {
  return (
    <details className="no-print mt-4" id="retract">
      <summary className="disclosure disclosure-problem">Retract this run</summary>
      <div className="mt-3">
        <ActionForm action={retract} label={`Retract run ${number}`}>
          {({ value, error }) => (
            <>
              <input type="hidden" name="runId" value={runId} />
              <input type="hidden" name="number" value={number} />
              <TextField
                name="reason"
                label="What was wrong"
                hint="Every reader of the run sees it. A retraction cannot be taken back; the run stays readable."
                multiline
                required
                maxLength={2000}
                defaultValue={value('reason')}
                error={error('reason')}
              />
              <SubmitButton variant="danger" pendingText="Retracting…">
                Retract run {number}
              </SubmitButton>
            </>
          )}
        </ActionForm>
      </div>
    </details>
  );
}

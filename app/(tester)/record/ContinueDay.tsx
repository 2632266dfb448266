'use client';

import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { continueDayOf } from './actions';

/** From one run to the sheet of its day, where the next one begins with all that it shares. */
export function ContinueDay({ runId, creationKey }: { runId: string; creationKey: string }) {
  return (
    <OneButtonForm action={continueDayOf} className="gap-3">
      <input type="hidden" name="runId" value={runId} />
      <input type="hidden" name="creationKey" value={creationKey} />
      <SubmitButton variant="secondary" pendingText="Opening…">
        Same again, other setup
      </SubmitButton>
    </OneButtonForm>
  );
}

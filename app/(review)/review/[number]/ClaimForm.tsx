'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { claim, release } from './actions';

/** Takes the run for review, or gives it back to the queue. */
export function ClaimForm({ runId, what }: { runId: string; what: 'claim' | 'release' }) {
  return (
    <ActionForm
      action={what === 'claim' ? claim : release}
      label={`${what === 'claim' ? 'Claim' : 'Release'} this run`}
    >
      {() => (
        <>
          <input type="hidden" name="runId" value={runId} />
          <SubmitButton variant={what === 'claim' ? 'primary' : 'secondary'} pendingText="One moment…">
            {what === 'claim' ? 'Claim it' : 'Give it back to the queue'}
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

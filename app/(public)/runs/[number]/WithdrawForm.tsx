'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { withdraw } from './actions';

/** Back to a draft, as long as no reviewer has decided. */
export function WithdrawForm({ runId, number }: { runId: string; number: number }) {
  return (
    <ActionForm action={withdraw} label={`Withdraw run ${number}`}>
      {() => (
        <>
          <input type="hidden" name="runId" value={runId} />
          <SubmitButton variant="danger" pendingText="Withdrawing…">
            Withdraw to a draft
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

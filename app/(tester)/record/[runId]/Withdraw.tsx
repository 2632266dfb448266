'use client';

import { useActionState } from 'react';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { KeptForm } from '@/app/ui/forms/KeptForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import { withdraw } from './actions';

/** Takes a run back as long as no reviewer has decided. */
export function Withdraw({ runId }: { runId: string }) {
  const [state, dispatch] = useActionState(withdraw, UNTOUCHED);
  return (
    <KeptForm dispatch={dispatch} label="Withdraw">
      {state.title ? <Notice kind="problem" title={state.title} live /> : null}
      <input type="hidden" name="runId" value={runId} />
      <SubmitButton variant="danger" pendingText="Withdrawing…">
        Withdraw to a draft
      </SubmitButton>
    </KeptForm>
  );
}

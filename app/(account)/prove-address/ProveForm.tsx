'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { confirmAddress } from './actions';

export function ProveForm({ token }: { token: string }) {
  return (
    <ActionForm label="Confirm the address" action={confirmAddress}>
      {({ state }) =>
        state.done ? null : (
          <>
            <input type="hidden" name="token" value={token} />
            <SubmitButton pendingText="Confirming…">Confirm the address</SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

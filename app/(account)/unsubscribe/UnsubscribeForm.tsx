'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { endLetters } from './actions';

export function UnsubscribeForm({ token, what }: { token: string; what: string }) {
  return (
    <ActionForm label="End the letters" action={endLetters}>
      {({ state }) =>
        state.done ? null : (
          <>
            <p>{what}</p>
            <input type="hidden" name="token" value={token} />
            <SubmitButton pendingText="Ending…">End these letters</SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

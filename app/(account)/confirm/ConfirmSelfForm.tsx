'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { confirmSelf } from './actions';

export function ConfirmSelfForm({ back, asksForCode }: { back: string; asksForCode: boolean }) {
  return (
    <ActionForm label="Confirm that it is you" action={confirmSelf}>
      {({ error }) => (
        <>
          <input type="hidden" name="back" value={back} />
          <TextField
            name="password"
            label="Password"
            type="password"
            required
            autoComplete="current-password"
            error={error('password')}
          />
          {asksForCode ? (
            <TextField
              name="code"
              label="Code of your second factor"
              required
              autoComplete="one-time-code"
              spellCheck={false}
              error={error('code')}
            />
          ) : null}
          <SubmitButton pendingText="Checking…">Confirm</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

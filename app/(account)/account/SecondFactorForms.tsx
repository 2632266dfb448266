'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { confirmOwnSecondFactor, endOwnSecondFactor } from './actions';

/** Asks for a first code. It stays on the page while its answer, the recovery codes, is read. */
export function ConfirmForm({ isBegun }: { isBegun: boolean }) {
  if (!isBegun) return null;
  return (
    <ActionForm label="Use the second factor" action={confirmOwnSecondFactor}>
      {({ value, error, state }) =>
        state.done ? (
          <>
            <p>
              Keep these recovery codes where the device is not: each opens the account once without it. They
              are not shown again.
            </p>
            <ul className="num columns-2 font-mono text-sm">
              {(state.values.recoveryCodes ?? '').split(' ').map((code) => (
                <li key={code}>{code}</li>
              ))}
            </ul>
          </>
        ) : (
          <>
            <TextField
              name="code"
              label="Code that the app shows"
              required
              inputMode="numeric"
              autoComplete="one-time-code"
              defaultValue={value('code')}
              error={error('code')}
            />
            <SubmitButton pendingText="Checking…">Use it from now on</SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

/** Takes it off. */
export function EndForm() {
  return (
    <ActionForm label="Take the second factor off" action={endOwnSecondFactor}>
      {({ error }) => (
        <>
          <TextField
            name="code"
            label="Code of the app, or a recovery code"
            required
            autoComplete="one-time-code"
            spellCheck={false}
            error={error('code')}
          />
          <SubmitButton pendingText="Checking…">Take it off</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

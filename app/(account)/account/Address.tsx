'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { askToProveAddress, changeAddress } from './addressActions';

/** The address of the account: whether it is confirmed, and how it is changed. */
export function Address({ email, isProved }: { email: string; isProved: boolean }) {
  return (
    <div className="grid gap-5">
      <p>
        {email} {isProved ? '(confirmed)' : '(not confirmed yet)'}
      </p>
      {isProved ? null : (
        <ActionForm label="Confirm the address" action={askToProveAddress}>
          {() => (
            <SubmitButton variant="secondary" pendingText="Sending…">
              Send me the link again
            </SubmitButton>
          )}
        </ActionForm>
      )}
      <ActionForm label="Change the address" action={changeAddress}>
        {({ value, error }) => (
          <>
            <TextField
              name="email"
              label="New e-mail address"
              type="email"
              required
              autoComplete="email"
              hint="It counts once you opened the link that is sent to it; until then the one above does."
              defaultValue={value('email')}
              error={error('email')}
            />
            <SubmitButton variant="secondary" pendingText="Sending…">
              Send a link to it
            </SubmitButton>
          </>
        )}
      </ActionForm>
    </div>
  );
}

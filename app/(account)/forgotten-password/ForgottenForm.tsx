'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { askForPassword } from './actions';

export function ForgottenForm() {
  return (
    <ActionForm label="Ask for a new password" action={askForPassword}>
      {({ value, error }) => (
        <>
          <TextField
            name="email"
            label="E-mail"
            type="email"
            required
            autoComplete="username"
            defaultValue={value('email')}
            error={error('email')}
          />
          <SubmitButton pendingText="Asking…">Send a link</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

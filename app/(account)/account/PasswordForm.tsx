'use client';

import { signIn } from 'next-auth/react';
import { type RefObject, useEffect, useRef } from 'react';
import { ActionForm } from '@/app/ui/forms/ActionForm';
import type { FormState } from '@/app/ui/forms/formState';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { changeOwnPassword } from './actions';

export function PasswordForm() {
  const newPassword = useRef('');
  return (
    <ActionForm
      label="Change password"
      action={(state, data) => {
        newPassword.current = String(data.get('newPassword') ?? '');
        return changeOwnPassword(state, data);
      }}
    >
      {({ error, state }) => (
        <>
          <StaySignedIn state={state} password={newPassword} />
          <TextField
            name="currentPassword"
            label="Current password"
            type="password"
            required
            autoComplete="current-password"
            error={error('currentPassword')}
          />
          <TextField
            name="newPassword"
            label="New password"
            type="password"
            required
            autoComplete="new-password"
            hint="At least 10 characters."
            error={error('newPassword')}
          />
          <SubmitButton pendingText="Changing…">Change password</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

/** The change ended every session, this one too: sign in again with what was just typed. */
function StaySignedIn({ state, password }: { state: FormState; password: RefObject<string> }) {
  useEffect(() => {
    const email = state.values.email;
    if (!state.done || !email || password.current === '') return;
    void signIn('credentials', { email, password: password.current, redirect: false }).then((result) => {
      // A second factor asks for its code.
      if (!result?.ok) window.location.assign('/sign-in?callbackUrl=/account');
    });
    password.current = '';
  }, [state, password]);
  return null;
}

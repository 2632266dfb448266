'use client';

import { signIn } from 'next-auth/react';
import { useEffect, useRef } from 'react';
import { ActionForm } from '@/app/ui/forms/ActionForm';
import type { FormState } from '@/app/ui/forms/formState';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { openAccount } from './actions';

/** Opens an account and, where scripts run, signs straight in. */
export function SignUpForm({ asksForCode }: { asksForCode: boolean }) {
  const password = useRef('');
  return (
    <ActionForm
      label="Open an account"
      action={(state, data) => {
        password.current = String(data.get('password') ?? '');
        return openAccount(state, data);
      }}
    >
      {({ value, error, state }) => (
        <>
          <SignInWhenOpen state={state} password={password} />
          <TextField
            name="displayName"
            label="Name shown beside your runs"
            required
            maxLength={60}
            autoComplete="nickname"
            defaultValue={value('displayName')}
            error={error('displayName')}
          />
          <TextField
            name="email"
            label="E-mail"
            type="email"
            required
            autoComplete="username"
            hint="Your name at sign-in. It is never shown."
            defaultValue={value('email')}
            error={error('email')}
          />
          <TextField
            name="password"
            label="Password"
            type="password"
            required
            autoComplete="new-password"
            hint="At least 10 characters; a few unrelated words are easy to remember."
            error={error('password')}
          />
          {asksForCode ? (
            <TextField
              name="stewardCode"
              label="Steward code"
              autoComplete="off"
              spellCheck={false}
              hint="Only for whoever runs the server, which printed it when it last started: it makes this account the steward. Everyone else leaves it empty."
              defaultValue={value('stewardCode')}
              error={error('stewardCode')}
            />
          ) : null}
          <SubmitButton pendingText="Opening…">Open account</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

function SignInWhenOpen({ state, password }: { state: FormState; password: { current: string } }) {
  useEffect(() => {
    if (!state.done || password.current === '') return;
    const typed = { email: state.values.email ?? '', password: password.current };
    void signIn('credentials', { ...typed, redirect: false }).then((result) => {
      const isWrong = result?.error === 'CredentialsSignin';
      const error = encodeURIComponent(isWrong ? 'afterSignUp' : (result?.error ?? ''));
      window.location.assign(result?.ok ? '/my' : `/sign-in?error=${error}`);
    });
  }, [state, password]);
  return null;
}

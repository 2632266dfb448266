'use client';

import { signIn } from 'next-auth/react';
import { type FormEvent, useState } from 'react';
import { Button } from '@/app/ui/Button';
import { TextField } from '@/app/ui/forms/TextField';
import { Notice } from '@/app/ui/Notice';
import { waitOfCode } from '@/app/visitor/waitCode';

type Message = readonly [title: string, advice: string];

const NO_MATCH: Message = [
  'E-mail and password do not match.',
  'Check both; capital letters matter in the password.',
];

const MESSAGES: ReadonlyMap<string, Message> = new Map([
  ['codeNeeded', ['One more step.', 'Enter the code that your authenticator app shows, or a recovery code.']],
  [
    'wrongCode',
    ['This code is not right.', 'A code holds for half a minute and works once. Enter the one shown now.'],
  ],
  [
    'afterSignUp',
    [
      'E-mail and password do not match.',
      'If the address had an account before, that was left as it is: sign in with its own password.',
    ],
  ],
  [
    'addressInUse',
    [
      'This address has an account with a password.',
      'Sign in with that; another way of signing in is never linked to an address by itself.',
    ],
  ],
]);

function messageOf(error: string): Message {
  const waitS = waitOfCode(error);
  if (waitS === undefined) return MESSAGES.get(error) ?? NO_MATCH;
  return ['Too many tries.', `Try again in ${waitS === 1 ? 'one second' : `${waitS} seconds`}.`];
}

/** A browser takes the part after the hash along when a page sends it here; the server never sees it. */
function wholeBack(callbackUrl: string): string {
  return callbackUrl.includes('#') ? callbackUrl : `${callbackUrl}${window.location.hash}`;
}

interface SignInFormProps {
  callbackUrl: string;
  initialError: string | undefined;
  providers: readonly { id: string; name: string }[];
}

export function SignInForm({ callbackUrl, initialError, providers }: SignInFormProps) {
  const [error, setError] = useState(initialError);
  const [isPending, setPending] = useState(false);
  const [asksForCode, setAsksForCode] = useState(false);

  async function submit(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    setPending(true);
    const result = await signIn('credentials', {
      email: String(data.get('email') ?? ''),
      password: String(data.get('password') ?? ''),
      code: String(data.get('code') ?? ''),
      redirect: false,
      callbackUrl: wholeBack(callbackUrl),
    });
    if (result?.ok) {
      window.location.assign(wholeBack(callbackUrl));
      return;
    }
    setPending(false);
    setError(result?.error ?? 'CredentialsSignin');
    if (result?.error === 'codeNeeded') setAsksForCode(true);
  }

  const message = error === undefined ? undefined : messageOf(error);
  return (
    <form method="post" onSubmit={submit} className="max-w-xl space-y-6" aria-label="Sign in">
      <noscript>Signing in needs scripts to be allowed for this site.</noscript>
      {message ? (
        <Notice kind={error === 'codeNeeded' ? 'info' : 'problem'} title={message[0]} live>
          {message[1]}
        </Notice>
      ) : null}
      <TextField name="email" label="E-mail" type="email" required autoComplete="username" />
      <TextField name="password" label="Password" type="password" required autoComplete="current-password" />
      {asksForCode ? (
        <TextField
          name="code"
          label="Code of your second factor"
          required
          autoComplete="one-time-code"
          spellCheck={false}
          hint="Six digits from the app, or a recovery code."
        />
      ) : null}
      <div className="flex flex-wrap items-center gap-3">
        <Button type="submit" disabled={isPending}>
          {isPending ? 'Signing in…' : 'Sign in'}
        </Button>
        {providers.map((provider) => (
          <Button
            key={provider.id}
            variant="secondary"
            onClick={() => void signIn(provider.id, { callbackUrl: wholeBack(callbackUrl) })}
          >
            Sign in with {provider.name}
          </Button>
        ))}
      </div>
    </form>
  );
}

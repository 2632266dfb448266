'use client';

import { SessionProvider, useSession } from 'next-auth/react';
import { useEffect } from 'react';
import { ActionForm } from '@/app/ui/ActionForm';
import { SubmitButton } from '@/app/ui/SubmitButton';
import { TextField } from '@/app/ui/TextField';
import { changeOwnPassword } from './actions';

export function PasswordForm() {
  return (
    <SessionProvider>
      <ActionForm action={changeOwnPassword} aria-label="Change password">
        {({ error, state }) => (
          <>
            <KeepThisPlaceSignedIn epoch={state.values?.epoch} />
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
    </SessionProvider>
  );
}

/** The change ended every session; this window's token moves on to the new epoch. */
function KeepThisPlaceSignedIn({ epoch }: { epoch: string | undefined }) {
  const { update } = useSession();
  // biome-ignore lint/correctness/useExhaustiveDependencies: `update` is new at each render; only the epoch matters.
  useEffect(() => {
    if (epoch !== undefined) void update({ sessionEpoch: Number(epoch) });
  }, [epoch]);
  return null;
}

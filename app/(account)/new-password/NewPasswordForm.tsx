'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { Link } from '@/app/ui/Link';
import { choosePassword } from './actions';

export function NewPasswordForm({ token }: { token: string }) {
  return (
    <ActionForm label="Choose a new password" action={choosePassword}>
      {({ error, state }) =>
        state.done ? (
          <Link className="link" href="/sign-in">
            Sign in
          </Link>
        ) : (
          <>
            <input type="hidden" name="token" value={token} />
            <TextField
              name="newPassword"
              label="New password"
              type="password"
              required
              autoComplete="new-password"
              hint="At least 10 characters; a few unrelated words are easy to remember."
              error={error('newPassword')}
            />
            <SubmitButton pendingText="Changing…">Use this password</SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

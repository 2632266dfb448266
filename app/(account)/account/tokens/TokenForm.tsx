'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { makeToken } from './actions';

interface TokenFormProps {
  scopes: readonly { value: string; label: string; hint: string }[];
  days: readonly { value: string; label: string }[];
}

/** Asks what a token is for; once it is made it stands here, this one time. */
export function TokenForm({ scopes, days }: TokenFormProps) {
  return (
    <ActionForm label="Make a token" action={makeToken}>
      {({ value, error, state }) =>
        state.values.secret === undefined ? (
          <>
            <TextField
              name="name"
              label="What it is for"
              hint="For example the program, and where it runs."
              required
              maxLength={60}
              autoComplete="off"
              defaultValue={value('name')}
              error={error('name')}
            />
            <ChoiceField
              name="scopes"
              label="What it may do"
              kind="checkboxes"
              required
              options={scopes}
              defaultValues={value('scopes').split(' ')}
              error={error('scopes')}
            />
            <ChoiceField
              name="days"
              label="How long it works"
              options={days}
              defaultValue={value('days', '90')}
              error={error('days')}
            />
            <SubmitButton pendingText="Making…">Make the token</SubmitButton>
          </>
        ) : (
          <>
            <p>
              <code className="block border border-rule bg-sheet px-3 py-2 break-all select-all">
                {state.values.secret}
              </code>
            </p>
            <p className="text-sm text-ink-soft">
              Whoever has it acts as you, as far as it goes. Keep it where passwords are kept, and never in a
              file that is published.
            </p>
            <a className="link inline-flex min-h-11 items-center" href="/account/tokens">
              I have copied it
            </a>
          </>
        )
      }
    </ActionForm>
  );
}

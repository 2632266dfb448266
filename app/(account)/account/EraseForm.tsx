'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { CheckField } from '@/app/ui/forms/CheckField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { eraseOwnAccount } from './eraseActions';

/** What goes and what stays, and the button. */
export function EraseForm() {
  return (
    <details className="mt-4">
      <summary className="link inline-flex min-h-11 cursor-pointer items-center">Erase this account</summary>
      <p className="mt-2 max-w-xl">
        Your address, name, password, sign-ins, tokens, notices, drafts and the originals of your recordings
        go for good. Runs that were sent in stay in the record under a name that is nobody’s, with the photos
        that they were decided by. It cannot be undone.
      </p>
      <ActionForm label="Erase this account" action={eraseOwnAccount}>
        {({ error }) => (
          <>
            <CheckField name="isConfirmed" label="Erase my account for good" error={error('isConfirmed')} />
            <SubmitButton variant="secondary" pendingText="Erasing…">
              Erase it
            </SubmitButton>
          </>
        )}
      </ActionForm>
    </details>
  );
}

'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { endSuspension, suspend } from './actions';

interface SuspensionFormProps {
  accountId: string;
  name: string;
  /** The one that is open. */
  suspension: { since: string; reason: string; appeal: string | undefined } | undefined;
}

/** Keeps an account from recording and reviewing, or lets it again, with the reason that the person is told. */
export function SuspensionForm({ accountId, name, suspension }: SuspensionFormProps) {
  return (
    <details>
      <summary className="link inline-flex min-h-9 cursor-pointer items-center">
        {suspension === undefined ? (
          <>
            No<span className="sr-only">, suspend {name}</span>
          </>
        ) : (
          <>
            Since {suspension.since}
            {suspension.appeal === undefined ? '' : ', appealed'}
            <span className="sr-only">: {name}</span>
          </>
        )}
      </summary>
      {suspension === undefined ? null : (
        <dl className="mt-1 text-sm">
          <dt className="font-semibold">Reason</dt>
          <dd className="whitespace-pre-line">{suspension.reason}</dd>
          {suspension.appeal === undefined ? null : (
            <>
              <dt className="mt-1 font-semibold">Appeal</dt>
              <dd className="whitespace-pre-line">{suspension.appeal}</dd>
            </>
          )}
        </dl>
      )}
      <ActionForm
        label={suspension === undefined ? `Suspend ${name}` : `Lift the suspension of ${name}`}
        action={suspension === undefined ? suspend : endSuspension}
      >
        {({ value, error }) => (
          <>
            <input type="hidden" name="accountId" value={accountId} />
            <TextField
              name="reason"
              id={`reason-${accountId}`}
              label={suspension === undefined ? 'What was done' : 'Why it is lifted'}
              hint="The person reads it; the public does not."
              multiline
              required
              maxLength={500}
              defaultValue={value('reason')}
              error={error('reason')}
            />
            <SubmitButton variant={suspension === undefined ? 'danger' : 'secondary'} pendingText="Working…">
              {suspension === undefined ? 'Suspend' : 'Lift'}
              <span className="sr-only"> {name}</span>
            </SubmitButton>
          </>
        )}
      </ActionForm>
    </details>
  );
}

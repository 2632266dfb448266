'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { changeFactorRule, takeLostFactorOff } from './actions';

/** Whether reviewers and stewards need a second factor, and the button that turns it. */
export function FactorRule({ areRequired }: { areRequired: boolean }) {
  return (
    <ActionForm label="Second factor of reviewers and stewards" action={changeFactorRule}>
      {() => (
        <>
          <p>
            {areRequired
              ? 'Reviewers and stewards need a second factor: without one they have a tester’s rights until they set one up.'
              : 'A second factor is left to choice. Asked of reviewers and stewards, those without one have a tester’s rights until they set one up.'}
          </p>
          <input type="hidden" name="areRequired" value={areRequired ? 'no' : 'yes'} />
          <SubmitButton variant="secondary" pendingText="Changing…">
            {areRequired ? 'Leave it to choice' : 'Ask it of reviewers and stewards'}
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

/** For somebody who lost the device and the recovery codes. */
export function LostFactorForm({ accountId, name }: { accountId: string; name: string }) {
  return (
    <details>
      <summary className="link inline-flex min-h-9 cursor-pointer items-center">
        In use<span className="sr-only"> by {name}</span>
      </summary>
      <OneButtonForm action={takeLostFactorOff} className="gap-2">
        <input type="hidden" name="accountId" value={accountId} />
        <label className="block text-sm">
          How you know that it is {name}
          <input
            name="reason"
            required
            minLength={10}
            maxLength={500}
            className="block min-h-9 w-full border border-rule-strong bg-paper px-2"
          />
        </label>
        <SubmitButton variant="secondary">Take the lost one off</SubmitButton>
      </OneButtonForm>
    </details>
  );
}

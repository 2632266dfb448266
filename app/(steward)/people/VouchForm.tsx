'use client';

import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { vouch } from './actions';

/** A steward who knows that a person stands behind the account says so. */
export function VouchForm({ accountId, name }: { accountId: string; name: string }) {
  return (
    <OneButtonForm action={vouch} className="gap-2">
      <input type="hidden" name="accountId" value={accountId} />
      <SubmitButton variant="secondary">
        Vouch<span className="sr-only"> for {name}</span>
      </SubmitButton>
    </OneButtonForm>
  );
}

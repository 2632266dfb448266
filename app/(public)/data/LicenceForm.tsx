'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { changeLicence } from './actions';

/** For stewards: under what the snapshots to come may be used. */
export function LicenceForm({
  chosen,
  licences,
}: {
  chosen: string;
  licences: readonly { value: string; label: string }[];
}) {
  return (
    <ActionForm label="Licence of the data" action={changeLicence}>
      {({ error }) => (
        <>
          <ChoiceField
            name="licence"
            label="Snapshots to come"
            kind="radio"
            defaultValue={chosen}
            options={licences}
            error={error('licence')}
          />
          <SubmitButton variant="secondary" pendingText="Choosing…">
            Choose
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

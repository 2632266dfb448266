'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { CheckField } from '@/app/ui/forms/CheckField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { publishOne } from '../actions';

interface PublishDraftFormProps {
  draftId: string;
  revision: number;
  label: string;
  seenVersionId: string;
  inForceLabel: string;
}

/** At once, or as a day begins. */
export function PublishDraftForm({
  draftId,
  revision,
  label,
  seenVersionId,
  inForceLabel,
}: PublishDraftFormProps) {
  return (
    <ActionForm action={publishOne} label={`Publish version ${label}`}>
      {({ value, error, state }) => (
        <>
          <input type="hidden" name="draftId" value={draftId} />
          <input type="hidden" name="revision" value={revision} />
          <input type="hidden" name="seenVersionId" value={seenVersionId} />
          <TextField
            name="day"
            type="date"
            label="Comes into force as this day begins"
            hint="By UTC. Left empty, it comes into force at once; with a day, it is announced on the protocol’s page until then, and can be taken back."
            defaultValue={value('day')}
            error={error('day')}
          />
          <CheckField
            name="isConfirmed"
            label={`I have read the differences. Runs sent in from then on shall be judged by version ${label} in the place of ${inForceLabel}.`}
            hint="Runs already sent in keep the version that judged them. Once in force, a version is never changed, only followed by another."
            required
            defaultChecked={state.values.isConfirmed === 'yes'}
            error={error('isConfirmed')}
          />
          <SubmitButton>Put version {label} in force</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

'use client';

import { useActionState } from 'react';
import { CheckField } from '@/app/ui/forms/CheckField';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import { publish } from './actions';

interface PublishFormProps {
  /** Absent where there is nothing to publish, as after it was done. */
  label: string | undefined;
  seenVersionId: string;
  inForceLabel: string;
}

/** One box and one button: what they do cannot be taken back, only followed by another version. */
export function PublishForm({ label, seenVersionId, inForceLabel }: PublishFormProps) {
  const [state, submit] = useActionState(publish, UNTOUCHED);
  const issue = state.issues.find(({ path }) => path === 'isConfirmed');
  if (label === undefined) {
    return state.done ? (
      <Notice kind="done" title={state.done} live />
    ) : (
      <p className="max-w-[46rem]">Nothing waits. Version {inForceLabel} stays in force.</p>
    );
  }
  return (
    <form action={submit} aria-label={`Publish version ${label}`} className="max-w-[38rem] space-y-6">
      {state.title && !issue ? <Notice kind="problem" title={state.title} live /> : null}
      <input type="hidden" name="label" value={label} />
      <input type="hidden" name="seenVersionId" value={seenVersionId} />
      <CheckField
        name="isConfirmed"
        label={`I have read the differences. Runs sent in from now on shall be judged by version ${label}.`}
        hint="This cannot be taken back: a limit that proves wrong is changed by another version."
        required
        error={issue}
      />
      <SubmitButton>Put version {label} in force</SubmitButton>
    </form>
  );
}

'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { start } from './actions';
import { WordsFields } from './WordsFields';

/** Begins a draft with everything that the version in force states. */
export function StartForm({ inForceLabel }: { inForceLabel: string }) {
  return (
    <ActionForm action={start} label="Start a draft">
      {(help) => (
        <>
          <WordsFields help={help} />
          <SubmitButton variant="secondary">Start a draft from version {inForceLabel}</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

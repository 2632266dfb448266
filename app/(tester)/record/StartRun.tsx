'use client';

import { useActionState } from 'react';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { KeptForm } from '@/app/ui/forms/KeptForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import { startRun } from './actions';

/** One button: the key is made with the page, so that a double press opens one draft. */
export function StartRun({ creationKey }: { creationKey: string }) {
  const [state, dispatch] = useActionState(startRun, UNTOUCHED);
  return (
    <KeptForm dispatch={dispatch} label="Start a new run">
      {state.title ? <Notice kind="problem" title={state.title} live /> : null}
      <input type="hidden" name="creationKey" value={creationKey} />
      <SubmitButton pendingText="Opening…">Start a new run</SubmitButton>
    </KeptForm>
  );
}

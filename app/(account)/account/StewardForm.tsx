'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { enterStewardCode } from './actions';

/** For who runs a server whose registry has no steward yet. */
export function StewardForm() {
  return (
    <ActionForm label="Become the steward" action={enterStewardCode}>
      {({ value, error }) => (
        <>
          <TextField
            name="stewardCode"
            label="Steward code"
            required
            autoComplete="off"
            spellCheck={false}
            hint="Printed when the server started, anew at each start. It works once."
            defaultValue={value('stewardCode')}
            error={error('stewardCode')}
          />
          <SubmitButton pendingText="Checking…">Become the steward</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { startDay } from './actions';

/** The day at the loop, and on to its sheet. The key is made with the page: a double press opens one. */
export function StartDay({ creationKey, today }: { creationKey: string; today: string }) {
  const [state, dispatch] = useActionState(startDay, UNTOUCHED);
  return (
    <FormFrame label="Open a day" state={state} dispatch={dispatch}>
      <div className="flex flex-wrap items-end gap-4">
        <input type="hidden" name="creationKey" value={creationKey} />
        <TextField
          name="localDate"
          label="Day at the loop"
          type="date"
          required
          defaultValue={state.values.localDate ?? today}
          error={errorOf(state.issues, 'localDate')}
        />
        <SubmitButton pendingText="Opening…">Record this day’s runs</SubmitButton>
      </div>
    </FormFrame>
  );
}

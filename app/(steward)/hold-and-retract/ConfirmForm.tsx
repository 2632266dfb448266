'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import type { ManyAct } from '@/lib/run/manyActs';
import { actOnRuns } from './actions';
import { ACT_WORDS, runsText } from './words';

/**
 * One reason for all that was looked at, and the button. What was seen of each run goes along. It stays where nothing is
 * left to do, as it says what was done.
 */
export function ConfirmForm({ act, seen }: { act: ManyAct; seen: readonly string[] }) {
  const words = ACT_WORDS[act];
  return (
    <ActionForm label={`${words.verb} ${runsText(seen.length)}`} action={actOnRuns}>
      {({ value, error, state }) =>
        state.done || seen.length === 0 ? null : (
          <>
            <input type="hidden" name="act" value={act} />
            <input type="hidden" name="seen" value={seen.join(' ')} />
            <TextField
              name="reason"
              label={words.label}
              hint={words.hint}
              multiline
              required
              maxLength={2000}
              defaultValue={value('reason')}
              error={error('reason')}
            />
            <SubmitButton variant={act === 'retract' ? 'danger' : 'primary'} pendingText={words.pending}>
              {words.verb} {runsText(seen.length)}
            </SubmitButton>
          </>
        )
      }
    </ActionForm>
  );
}

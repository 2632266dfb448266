'use client';

import { useActionState } from 'react';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { Notice } from '@/app/ui/Notice';
import { type WorldKey, worldWords } from '@/lib/run/world';
import { adopt } from './actions';

interface AdoptFormProps {
  world: WorldKey;
  seenVersionId: string | null;
  /** What is shown, and so what is adopted. */
  learnedIds: readonly string[];
  /** Runs are still being computed under the last adoption: its learning is not there yet. */
  isWaiting: boolean;
}

/** The steward's reason, and the one button that moves every number of a world. */
export function AdoptForm({ world, seenVersionId, learnedIds, isWaiting }: AdoptFormProps) {
  const [state, submit] = useActionState(adopt, UNTOUCHED);
  const issue = state.issues.find(({ path }) => path === 'summary');
  if (isWaiting) {
    return (
      <div className="mt-6 max-w-[38rem] space-y-4">
        {state.done ? <Notice kind="done" title={state.done} live /> : null}
        <p className="text-ink-soft">
          Nothing more can be adopted until they are: what models learn from them comes after.
        </p>
      </div>
    );
  }
  return (
    <form
      action={submit}
      aria-label={`Adopt for ${worldWords(world)}`}
      className="mt-6 max-w-[38rem] space-y-6"
    >
      {state.done ? <Notice kind="done" title={state.done} live /> : null}
      {state.title && !issue ? <Notice kind="problem" title={state.title} live /> : null}
      <input type="hidden" name="world" value={world} />
      <input type="hidden" name="seenVersionId" value={seenVersionId ?? ''} />
      {learnedIds.map((id) => (
        <input key={id} type="hidden" name="learnedId" value={id} />
      ))}
      <TextField
        name="summary"
        id={`summary-${world}`}
        label="Why now"
        hint="One or two sentences; readers find them on the method’s page, with your name and the date."
        required
        multiline
        rows={3}
        minLength={10}
        maxLength={1000}
        defaultValue={state.values.summary ?? ''}
        error={issue}
      />
      <SubmitButton>
        Adopt {learnedIds.length} learned road {learnedIds.length === 1 ? 'load' : 'loads'} as a new version
      </SubmitButton>
    </form>
  );
}

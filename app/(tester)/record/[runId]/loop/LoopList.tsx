'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { takeLoop } from './actions';

interface LoopListProps {
  runId: string;
  draftVersion: number;
  loops: readonly { id: string; name: string; details: string; isChosen: boolean }[];
}

/** One button a loop: pressing it puts the loop into the draft. */
export function LoopList({ runId, draftVersion, loops }: LoopListProps) {
  const [state, dispatch] = useActionState(takeLoop, UNTOUCHED);
  return (
    <FormFrame label="Choose a loop" state={state} dispatch={dispatch}>
      <input type="hidden" name="runId" value={runId} />
      <input type="hidden" name="draftVersion" value={draftVersion} />
      <ul className="divide-y divide-rule border-y border-rule">
        {loops.map(({ id, name, details, isChosen }) => (
          <li key={id} className="flex flex-wrap items-center justify-between gap-x-6 gap-y-2 py-3">
            <span>
              <strong>{name}</strong>
              <span className="block text-sm text-ink-soft">{details}</span>
            </span>
            {isChosen ? (
              <span className="text-sm">Chosen</span>
            ) : (
              <SubmitButton name="loopId" value={id} variant="secondary" pendingText="Choosing…">
                Choose<span className="sr-only"> {name}</span>
              </SubmitButton>
            )}
          </li>
        ))}
      </ul>
    </FormFrame>
  );
}

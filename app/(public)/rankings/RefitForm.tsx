'use client';

import { useActionState } from 'react';
import { SubmitButton } from '@/app/ui/SubmitButton';
import { EMPTY_FORM_STATE } from '@/app/visitor/formState';
import type { WorldKey } from '@/lib/run/world';
import { refitClass } from './actions';

/** For stewards: a fit of the class that the page shows, by the background. */
export function RefitForm({ cruiseClassKey, world }: { cruiseClassKey: string; world: WorldKey }) {
  const [state, submit] = useActionState(refitClass, EMPTY_FORM_STATE);
  return (
    <form action={submit} className="mt-4 flex flex-wrap items-center gap-3">
      <input type="hidden" name="cruiseClassKey" value={cruiseClassKey} />
      <input type="hidden" name="world" value={world} />
      <SubmitButton variant="secondary">Fit this class again</SubmitButton>
      <span role="status" className="text-sm">
        {state.problem?.title ?? state.done ?? ''}
      </span>
    </form>
  );
}

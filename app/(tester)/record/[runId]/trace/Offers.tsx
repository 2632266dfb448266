'use client';

import { useActionState } from 'react';
import { CheckField } from '@/app/ui/forms/CheckField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import type { DraftTraceView } from '@/lib/registry/traces/draftTrace';
import { takeValues } from './actions';

/** What the recording knows for the form; what is typed there stays unless it is ticked here. */
export function Offers({ view }: { view: DraftTraceView }) {
  const [state, dispatch] = useActionState(takeValues, UNTOUCHED);
  const offers = view.trace?.offers ?? [];
  return (
    <FormFrame
      label="Values from the recording"
      state={state}
      dispatch={dispatch}
      submitText="Use the ticked values"
    >
      <input type="hidden" name="runId" value={view.runId} />
      <input type="hidden" name="draftVersion" value={view.draftVersion} />
      <ul className="space-y-3">
        {offers.map((offer) => (
          <li key={offer.name}>
            <CheckField
              name="take"
              id={`take-${offer.name}`}
              value={offer.name}
              defaultChecked={offer.isSuggested}
              label={
                <>
                  {offer.label}: <strong className="num">{offer.shown}</strong>
                </>
              }
              hint={[offer.typed === '' ? 'Empty in the form.' : `In the form: ${offer.typed}.`, offer.note]
                .filter(Boolean)
                .join(' ')}
            />
          </li>
        ))}
      </ul>
    </FormFrame>
  );
}

'use client';

import { useState } from 'react';
import { Button } from '@/app/ui/Button';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import type { FormState } from '@/app/ui/forms/formState';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import { BEARING_ROWS, bearingName, shareName } from '@/lib/capture/loopForm';

interface BearingRowsProps {
  leg: 'outbound' | 'return';
  state: FormState;
}

const LEG_WORDS = {
  outbound: { legend: 'Outbound leg', hint: 'The way back is taken as the same, turned by 180°.' },
  return: { legend: 'Return leg', hint: 'As driven, from the turnaround to the finish.' },
} as const;

/** Directions of one leg, each with the share of the leg's length that runs that way. */
export function BearingRows({ leg, state }: BearingRowsProps) {
  const [count, setCount] = useState(() => Math.max(4, filledRows(leg, state)));
  const { legend, hint } = LEG_WORDS[leg];
  return (
    <fieldset>
      <legend className="font-semibold text-sm">{legend}</legend>
      <p className="text-sm text-ink-soft">{hint}</p>
      <ol className="mt-2 space-y-3">
        {Array.from({ length: count }, (_, row) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a row is known by its place in the form
          <li key={row} className="flex flex-wrap items-start gap-x-6 gap-y-2">
            <QuantityField
              name={bearingName(leg, row)}
              label={`Bearing ${row + 1}`}
              units={[{ value: 'deg', label: '°' }]}
              defaultValue={state.values[bearingName(leg, row)] ?? ''}
              error={errorOf(state.issues, bearingName(leg, row))}
            />
            <QuantityField
              name={shareName(leg, row)}
              label={`Share ${row + 1}`}
              units={[{ value: '%', label: '%' }]}
              defaultValue={state.values[shareName(leg, row)] ?? ''}
              error={errorOf(state.issues, shareName(leg, row))}
            />
          </li>
        ))}
      </ol>
      {count < BEARING_ROWS ? (
        <Button className="mt-3" onClick={() => setCount(count + 1)}>
          One more direction
        </Button>
      ) : null}
    </fieldset>
  );
}

function filledRows(leg: 'outbound' | 'return', state: FormState): number {
  for (let row = BEARING_ROWS; row > 0; row--) {
    if (state.values[bearingName(leg, row - 1)] || state.values[shareName(leg, row - 1)]) return row;
  }
  return 0;
}

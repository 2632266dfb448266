'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { CheckField } from '@/app/ui/forms/CheckField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { MarkedPart } from '@/app/ui/MarkedPart';
import type { PhotoMark } from '@/lib/run/photoMarks';
import { retype } from './actions';
import type { DeskPhoto } from './PhotoDesk';
import { retypedField } from './retypedField';

export interface BlindField {
  quantity: string;
  label: string;
  unit: string;
  photoLabel: string;
  /** Where its tester marked it. */
  proof: { photo: DeskPhoto; mark: PhotoMark } | undefined;
}

/** What the photos show, typed before what the tester typed is shown. */
export function BlindEntry({
  runId,
  revisionNumber,
  fields,
}: {
  runId: string;
  revisionNumber: number;
  fields: readonly BlindField[];
}) {
  return (
    <ActionForm action={retype} label="Readings off the photos">
      {({ value, error }) => (
        <>
          <input type="hidden" name="runId" value={runId} />
          <input type="hidden" name="revisionNumber" value={revisionNumber} />
          {fields.map(({ quantity, label, unit, photoLabel, proof }) => (
            <div key={quantity}>
              {proof ? <MarkedPart {...proof} label={label} className="mb-2" /> : null}
              <TextField
                name={retypedField(quantity)}
                label={unit === '' ? label : `${label}, in ${unit}`}
                hint={`On the photo “${photoLabel}”`}
                inputMode="decimal"
                autoComplete="off"
                maxLength={60}
                defaultValue={value(retypedField(quantity))}
                error={error(retypedField(quantity))}
              />
            </div>
          ))}
          <CheckField
            name="showRest"
            label="Show me those that I leave empty"
            hint="It is kept that you did not read them off a photo."
            defaultChecked={value('showRest') !== ''}
          />
          <SubmitButton variant="secondary" pendingText="Comparing…">
            Compare with the tester’s
          </SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

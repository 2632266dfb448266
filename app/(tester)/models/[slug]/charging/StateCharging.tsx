'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { FormSection } from '@/app/ui/forms/FormSection';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { type FormState, UNTOUCHED } from '@/app/ui/forms/formState';
import { NumberInput, TextInput } from '@/app/ui/forms/NumberFields';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { Notice } from '@/app/ui/Notice';
import {
  CHARGING_SOURCE,
  MODEL_CAPACITY,
  PEAK_POWER,
  type RowFields,
  rowsOf,
} from '@/lib/capture/chargingForm';
import { stateChargingFromForm } from './actions';

interface StateChargingProps {
  modelId: string;
  takesCapacity: boolean;
  /** What is on file, as the form takes it. */
  values: Readonly<Record<string, string>>;
}

export function StateCharging({ modelId, takesCapacity, values }: StateChargingProps) {
  const [state, dispatch] = useActionState(stateChargingFromForm, { ...UNTOUCHED, values });
  const rows = rowsOf(state.values);
  const order = [
    ...rows.flatMap(({ charge, power }) => [charge.name, power.name]),
    ...['pasted', PEAK_POWER.name, MODEL_CAPACITY.name, CHARGING_SOURCE.name],
  ];
  return (
    <FormFrame label="State how the model charges" state={state} dispatch={dispatch} order={order}>
      {state.done ? <Notice kind="info" title={state.done} live /> : null}
      <input type="hidden" name="modelId" value={modelId} />
      <input type="hidden" name="rows" value={rows.length} />
      <FormSection
        legend="The curve"
        hint="Charging power, as it enters the battery, at a state of charge; by rising charge, two rows at least. Rows left empty do not count. Without a curve, the peak power below is enough."
      >
        {/* rows that were added or filled on the server start anew from what it gave back */}
        <div key={JSON.stringify(state.values)} className="space-y-6">
          <CurveRows rows={rows} state={state} />
          <TextField
            name="pasted"
            label="Or rows out of a table"
            hint="A charge in % and a power in kW on each line. They are put into the rows above, for you to look at."
            multiline
            rows={3}
            maxLength={4000}
            spellCheck={false}
            defaultValue={state.values.pasted ?? ''}
            error={errorOf(state.issues, 'pasted')}
          />
        </div>
      </FormSection>
      <FormSection legend="The rest">
        <NumberInput field={PEAK_POWER} state={state} />
        {takesCapacity ? <NumberInput field={MODEL_CAPACITY} state={state} /> : null}
        <TextInput
          state={state}
          name={CHARGING_SOURCE.name}
          label="Source of these numbers"
          hint="In words, for example a data sheet with its page, or a charge that you watched and where."
          required
          maxLength={300}
        />
      </FormSection>
      <div className="mt-8 flex flex-wrap gap-3">
        <SubmitButton name="intent" value="state">
          State how it charges
        </SubmitButton>
        <SubmitButton name="intent" value="moreRows" variant="secondary" pendingText="Adding…">
          More rows
        </SubmitButton>
      </div>
    </FormFrame>
  );
}

/** Charge and power side by side, one row under the other. */
function CurveRows({ rows, state }: { rows: readonly RowFields[]; state: FormState }) {
  return (
    <div className="max-w-[26rem] space-y-2">
      <div aria-hidden="true" className="grid grid-cols-2 gap-x-6 text-sm font-semibold">
        <span>State of charge</span>
        <span>Charging power</span>
      </div>
      {rows.map(({ row, charge, power }) => (
        <div key={row} className="grid grid-cols-2 items-start gap-x-6">
          <NumberInput field={charge} state={state} isLabelHidden />
          <NumberInput field={power} state={state} isLabelHidden />
        </div>
      ))}
    </div>
  );
}

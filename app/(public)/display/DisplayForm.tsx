'use client';

import { ActionForm } from '@/app/ui/forms/ActionForm';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import {
  APPEARANCES,
  type ChosenKind,
  DECIMAL_MARKS,
  type Preferences,
  UNIT_CHOICES,
} from '@/lib/units/display';
import { type UnitCode, unitSymbol } from '@/lib/units/unit';
import { saveDisplay } from './actions';

const KINDS: readonly { kind: ChosenKind; label: string; hint?: string }[] = [
  {
    kind: 'consumption',
    label: 'Consumption',
    hint: 'In km/kWh and mi/kWh more is better: signs and words turn with it.',
  },
  { kind: 'distance', label: 'Distance and speed' },
  { kind: 'temperature', label: 'Temperature' },
  { kind: 'wind', label: 'Wind' },
  { kind: 'height', label: 'Height and short distances' },
  { kind: 'tyrePressure', label: 'Tyre pressure' },
  { kind: 'airPressure', label: 'Air pressure' },
  { kind: 'mass', label: 'Mass' },
];

const MARK_LABELS = { point: 'Decimal point: 18.2', comma: 'Decimal comma: 18,2' } as const;
const APPEARANCE_LABELS = { system: 'As the system', light: 'Light', dark: 'Dark' } as const;

const unitLabel = (kind: ChosenKind, unit: UnitCode) =>
  kind === 'distance' ? { km: 'km, km/h', mi: 'mi, mph' }[unit as 'km' | 'mi'] : unitSymbol(unit);

/** Every choice in one form; it works without scripts. */
export function DisplayForm({ chosen, back }: { chosen: Preferences; back: string }) {
  return (
    <ActionForm label="Units and display" action={saveDisplay}>
      {({ value, error }) => (
        <>
          <input type="hidden" name="back" value={back} />
          {KINDS.map(({ kind, label, hint }) => (
            <ChoiceField
              key={kind}
              name={kind}
              label={label}
              hint={hint}
              kind="select"
              defaultValue={value(kind, chosen[kind])}
              options={UNIT_CHOICES[kind].map((unit) => ({ value: unit, label: unitLabel(kind, unit) }))}
              error={error(kind)}
            />
          ))}
          <ChoiceField
            name="mark"
            label="Decimal mark"
            hint="In what is shown. Either is understood in what you type."
            kind="radio"
            inline
            defaultValue={value('mark', chosen.mark)}
            options={DECIMAL_MARKS.map((mark) => ({ value: mark, label: MARK_LABELS[mark] }))}
            error={error('mark')}
          />
          <ChoiceField
            name="appearance"
            label="Appearance"
            kind="radio"
            inline
            defaultValue={value('appearance', chosen.appearance)}
            options={APPEARANCES.map((one) => ({ value: one, label: APPEARANCE_LABELS[one] }))}
            error={error('appearance')}
          />
          <SubmitButton pendingText="Keeping…">Keep these</SubmitButton>
        </>
      )}
    </ActionForm>
  );
}

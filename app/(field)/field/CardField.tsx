import { Remarks } from '@/app/(tester)/record/[runId]/Remarks';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import { TextField } from '@/app/ui/forms/TextField';
import type { FieldEntry } from '@/lib/run/fields/entry';
import { unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import { offsetLabel, UTC_OFFSETS_MIN } from '@/lib/run/utcOffset';
import { UNITS } from '@/lib/units/unit';

/** More than these are a select: a list of radios longer than a screen is no help to a thumb. */
export const MOST_RADIOS = 6;

/** A form on the card and how a change of it is kept. */
export interface Typing {
  form: RunForm;
  set: (name: string, value: string) => void;
  /** The unit of a display was chosen. */
  onUnit?: (name: string, unit: string) => void;
}

interface CardFieldProps {
  definition: FieldEntry;
  typing: Typing;
  remarks?: readonly string[] | undefined;
}

/** One number, choice or text of a form, in the card's size; things on file are chosen elsewhere. */
export function CardField({ definition, typing, remarks }: CardFieldProps) {
  const { name, kind, hint } = definition;
  const { form, set, onUnit } = typing;
  const control = {
    name,
    label: definition.cardLabel ?? definition.label,
    size: 'field' as const,
    hint: hint || undefined,
    value: form[name] ?? '',
    onValueChange: (value: string) => set(name, value),
  };
  if (kind === 'quantity') {
    const unitName = unitFieldName(name);
    return (
      <QuantityField
        {...control}
        hint={
          <>
            {hint}
            <Remarks texts={remarks} />
          </>
        }
        units={definition.units.map((unit) => ({ value: unit, label: UNITS[unit].symbol }))}
        unit={form[unitName] || definition.units[0]}
        onUnitChange={(unit) => {
          set(unitName, unit);
          onUnit?.(name, unit);
        }}
      />
    );
  }
  if (kind === 'choice') return <ChoiceField {...control} kind="radio" options={definition.options} />;
  if (kind === 'text') return <TextField {...control} multiline rows={definition.rows} maxLength={4000} />;
  if (name !== 'utcOffsetMin') return null;
  const offsets = UTC_OFFSETS_MIN.map((minutes) => ({ value: String(minutes), label: offsetLabel(minutes) }));
  return <ChoiceField {...control} emptyLabel="Choose" options={offsets} />;
}

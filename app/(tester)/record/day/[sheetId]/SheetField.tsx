import { CheckField } from '@/app/ui/forms/CheckField';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { FieldError } from '@/app/ui/forms/Field';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import { TextField } from '@/app/ui/forms/TextField';
import type { FieldEntry } from '@/lib/run/fields/entry';
import { typedWords, valueWords } from '@/lib/run/fields/fieldWords';
import { unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import { offsetLabel, UTC_OFFSETS_MIN } from '@/lib/run/utcOffset';
import { UNITS } from '@/lib/units/unit';
import { Remarks } from '../../[runId]/Remarks';
import { dayId, dayName } from './sheetForm';

interface SheetFieldProps {
  field: FieldEntry;
  /** Whose field it is: the day's, or the open run's own. */
  of: 'day' | 'run';
  starting: RunForm;
  /** What the day says now, where a run may differ from it. */
  day: RunForm;
  remarks: readonly string[] | undefined;
  error: FieldError | undefined;
}

/** One field of the sheet as the table of fields has it, but for the choice of things on file. */
export function SheetField({ field, of, starting, day, remarks, error }: SheetFieldProps) {
  const { name, label, kind } = field;
  const nameHere = of === 'day' ? dayName : (one: string) => one;
  const ofDay = of === 'run' && field.day !== undefined ? dayWords(field, day) : undefined;
  const control = {
    id: of === 'day' ? dayId(name) : name,
    name: nameHere(name),
    label,
    hint: hint(ofDay ?? field.hint, remarks),
    required: field.isRequired && ofDay === undefined,
    defaultValue: starting[nameHere(name)] ?? '',
    error,
  };
  if (kind === 'quantity') {
    const unitName = nameHere(unitFieldName(name));
    return (
      <QuantityField
        {...control}
        unitName={unitName}
        units={field.units.map((unit) => ({ value: unit, label: UNITS[unit].symbol }))}
        defaultUnit={starting[unitName]}
      />
    );
  }
  if (kind === 'choice') {
    const emptyLabel = ofDay !== undefined ? 'As the day' : field.isRequired ? 'Choose' : 'Not stated';
    return <ChoiceField {...control} kind="select" emptyLabel={emptyLabel} options={field.options} />;
  }
  if (kind === 'text') {
    return <TextField {...control} multiline rows={field.rows} maxLength={4000} />;
  }
  if (name === 'utcOffsetMin') {
    return (
      <ChoiceField
        {...control}
        emptyLabel="Choose the offset"
        options={UTC_OFFSETS_MIN.map((minutes) => ({ value: String(minutes), label: offsetLabel(minutes) }))}
      />
    );
  }
  const { defaultValue, ...check } = control;
  return <CheckField {...check} required={undefined} defaultChecked={defaultValue === 'yes'} />;
}

/** What holds for a run that says nothing itself. */
function dayWords(field: FieldEntry, day: RunForm): string {
  const words =
    field.kind === 'quantity' ? typedWords(day, field) : valueWords(field.name, day[field.name] ?? '');
  return words === '' ? 'The day says nothing.' : `The day: ${words.slice(0, 80)}.`;
}

function hint(text: string, remarks: readonly string[] | undefined) {
  if (text === '' && !remarks?.length) return undefined;
  return (
    <>
      {text}
      <Remarks texts={remarks} />
    </>
  );
}

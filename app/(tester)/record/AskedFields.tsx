import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { FieldSize } from '@/app/ui/forms/Field';
import { cardTitle, fieldTitle, valueWords } from '@/lib/run/fields/fieldWords';
import type { AskedField, Side } from '@/lib/run/mergeForms';
import { unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';

/** Under which the choice for a field is posted. */
export const choiceName = (field: string): string => `choice.${field}`;

interface AskedFieldsProps {
  asked: readonly AskedField[];
  /** Where the one asked sits, for example "on this phone". */
  here: string;
  /** A thing that was chosen by its name, where its id stands in the form. */
  nameOf: (field: string, id: string) => string | undefined;
  /** The field of a run that a name stands for. */
  fieldOf?: (name: string) => string;
  size?: FieldSize;
  /** Fields without an answer that was wanted. */
  missing: ReadonlySet<string>;
  choices?: ReadonlyMap<string, Side>;
  onChoose?: (field: string, side: Side) => void;
}

/** Both values of each field that was changed in two places: plain radios, so it needs no script. */
export function AskedFields(props: AskedFieldsProps) {
  const {
    asked,
    here,
    nameOf,
    size = 'normal',
    missing,
    choices,
    onChoose,
    fieldOf = (name) => name,
  } = props;
  const words = ({ name }: AskedField, form: RunForm): string => {
    const value = form[name] ?? '';
    if (value === '') return 'Leave it empty';
    const field = fieldOf(name);
    const unit = form[unitFieldName(name)];
    const offset = name === 'startedAtLocal' ? form.utcOffsetMin : undefined;
    return [
      nameOf(field, value) ?? valueWords(field, value).replace('T', field === 'startedAtLocal' ? ' ' : 'T'),
      unit ? valueWords(unitFieldName(field), unit) : '',
      offset ? valueWords('utcOffsetMin', offset) : '',
    ]
      .filter(Boolean)
      .join(' ');
  };
  return (
    <div className="space-y-5">
      {asked.map((field) => (
        <ChoiceField
          key={field.name}
          name={choiceName(field.name)}
          label={size === 'field' ? cardTitle(fieldOf(field.name)) : fieldTitle(fieldOf(field.name))}
          kind="radio"
          size={size}
          options={[
            { value: 'mine', label: words(field, field.mine), hint: `As it stands ${here}` },
            { value: 'theirs', label: words(field, field.theirs), hint: 'As it was changed elsewhere' },
          ]}
          value={choices?.get(field.name) ?? ''}
          onValueChange={onChoose && ((side) => onChoose(field.name, side === 'theirs' ? 'theirs' : 'mine'))}
          error={missing.has(field.name) ? { what: 'Choose one of the two.' } : undefined}
        />
      ))}
    </div>
  );
}

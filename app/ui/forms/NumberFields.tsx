import { type NumberField, unitFieldName } from '@/lib/run/numberField';
import { UNITS } from '@/lib/units/unit';
import { errorOf } from './fieldErrors';
import type { FormState } from './formState';
import { QuantityField } from './QuantityField';
import { TextField, type TextFieldProps } from './TextField';

/** The numbers of a form, two side by side where there is room. */
export function NumberFields({ fields, state }: { fields: readonly NumberField[]; state: FormState }) {
  return (
    <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
      {fields.map((field) => (
        <NumberInput key={field.name} field={field} state={state} />
      ))}
    </div>
  );
}

interface NumberInputProps {
  field: NumberField;
  state: FormState;
  isLabelHidden?: boolean;
}

export function NumberInput({ field, state, isLabelHidden = false }: NumberInputProps) {
  const common = {
    name: field.name,
    label: field.label,
    hint: field.hint || undefined,
    required: field.isRequired,
    defaultValue: state.values[field.name] ?? '',
    error: errorOf(state.issues, field.name),
  };
  if (field.units.length === 0) return <TextField {...common} inputMode="decimal" autoComplete="off" />;
  return (
    <QuantityField
      {...common}
      isLabelHidden={isLabelHidden}
      units={field.units.map((unit) => ({ value: unit, label: UNITS[unit].symbol }))}
      defaultUnit={state.values[unitFieldName(field.name)]}
    />
  );
}

/** A text of a form with what was typed and what is wrong with it. */
export function TextInput({ state, ...field }: TextFieldProps & { state: FormState }) {
  return (
    <TextField
      {...field}
      defaultValue={state.values[field.name] ?? field.defaultValue ?? ''}
      error={errorOf(state.issues, field.name)}
    />
  );
}

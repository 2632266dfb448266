import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import { CHOICE_FIELDS, type ChoiceFieldDefinition, quantityField, unitFieldName } from '@/lib/run/fields';
import type { RunQuantity } from '@/lib/run/runRecord';
import { UNITS } from '@/lib/units/unit';
import { Remarks } from '../record/[runId]/Remarks';
import { type FieldRun, typed } from './fieldRun';
import { keepUnit } from './phone';
import type { FIELD_STEPS } from './steps';
import type { Field } from './useField';

interface StepFieldsProps {
  step: (typeof FIELD_STEPS)[number];
  run: FieldRun;
  field: Field;
  remarks: Readonly<Record<string, readonly string[]>>;
}

/** Every number and choice of one step, each asked once, in the display's own unit. */
export function StepFields({ step, run, field, remarks }: StepFieldsProps) {
  return (
    <>
      {step.quantities.map((quantity) => (
        <Reading key={quantity} quantity={quantity} run={run} field={field} remarks={remarks[quantity]} />
      ))}
      {step.choices.map((name) => (
        <Choice key={name} name={name} run={run} field={field} />
      ))}
    </>
  );
}

interface ReadingProps {
  quantity: RunQuantity;
  run: FieldRun;
  field: Field;
  remarks: readonly string[] | undefined;
}

function Reading({ quantity, run, field, remarks }: ReadingProps) {
  const definition = quantityField(quantity);
  const unitName = unitFieldName(quantity);
  const set = (name: string, value: string) => field.change(run.key, (now) => typed(now, name, value));
  return (
    <QuantityField
      name={quantity}
      label={definition.label}
      size="field"
      hint={
        <>
          {definition.hint}
          <Remarks texts={remarks} />
        </>
      }
      units={definition.units.map((unit) => ({ value: unit, label: UNITS[unit].symbol }))}
      value={run.form[quantity] ?? ''}
      onValueChange={(value) => set(quantity, value)}
      unit={run.form[unitName] || definition.units[0]}
      onUnitChange={(unit) => {
        set(unitName, unit);
        const { carId } = run.form;
        if (field.phone && carId) void keepUnit(field.phone, run.accountId, carId, quantity, unit);
      }}
    />
  );
}

function Choice({ name, run, field }: { name: string; run: FieldRun; field: Field }) {
  const definition = (CHOICE_FIELDS as readonly ChoiceFieldDefinition[]).find((one) => one.name === name);
  if (definition === undefined) return null;
  return (
    <ChoiceField
      name={name}
      label={definition.label}
      hint={definition.hint || undefined}
      kind="radio"
      size="field"
      options={definition.options}
      value={run.form[name] ?? ''}
      onValueChange={(value) => field.change(run.key, (now) => typed(now, name, value))}
    />
  );
}

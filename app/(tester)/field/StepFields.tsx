import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import type { CardStepFields } from '@/lib/run/fields/cardSteps';
import type { ChoiceEntry } from '@/lib/run/fields/entry';
import type { QuantityField as QuantityDefinition } from '@/lib/run/fields/table';
import { unitFieldName } from '@/lib/run/numberField';
import { UNITS } from '@/lib/units/unit';
import { Remarks } from '../record/[runId]/Remarks';
import { type FieldRun, typed } from './fieldRun';
import { keepUnit } from './phone';
import type { Field } from './useField';

interface StepFieldsProps {
  step: CardStepFields;
  run: FieldRun;
  field: Field;
  remarks: Readonly<Record<string, readonly string[]>>;
}

/** Every number and choice of one step, each asked once, in the display's own unit. */
export function StepFields({ step, run, field, remarks }: StepFieldsProps) {
  return (
    <>
      {step.quantities.map((definition) => (
        <Reading
          key={definition.name}
          definition={definition}
          run={run}
          field={field}
          remarks={remarks[definition.name]}
        />
      ))}
      {step.choices.map((definition) => (
        <Choice key={definition.name} definition={definition} run={run} field={field} />
      ))}
    </>
  );
}

interface ReadingProps {
  definition: QuantityDefinition;
  run: FieldRun;
  field: Field;
  remarks: readonly string[] | undefined;
}

function Reading({ definition, run, field, remarks }: ReadingProps) {
  const { name } = definition;
  const unitName = unitFieldName(name);
  const set = (changed: string, value: string) => field.change(run.key, (now) => typed(now, changed, value));
  return (
    <QuantityField
      name={name}
      label={definition.cardLabel ?? definition.label}
      size="field"
      hint={
        <>
          {definition.hint}
          <Remarks texts={remarks} />
        </>
      }
      units={definition.units.map((unit) => ({ value: unit, label: UNITS[unit].symbol }))}
      value={run.form[name] ?? ''}
      onValueChange={(value) => set(name, value)}
      unit={run.form[unitName] || definition.units[0]}
      onUnitChange={(unit) => {
        set(unitName, unit);
        const { carId } = run.form;
        if (field.phone && carId) void keepUnit(field.phone, run.accountId, carId, name, unit);
      }}
    />
  );
}

function Choice({ definition, run, field }: { definition: ChoiceEntry; run: FieldRun; field: Field }) {
  const { name } = definition;
  return (
    <ChoiceField
      name={name}
      label={definition.cardLabel ?? definition.label}
      hint={definition.hint || undefined}
      kind="radio"
      size="field"
      options={definition.options}
      value={run.form[name] ?? ''}
      onValueChange={(value) => field.change(run.key, (now) => typed(now, name, value))}
    />
  );
}

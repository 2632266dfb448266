import { type ReactNode, useEffect, useState } from 'react';
import { Remarks } from '@/app/(tester)/record/[runId]/Remarks';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import type { CardStepFields } from '@/lib/run/fields/cardSteps';
import type { ChoiceEntry } from '@/lib/run/fields/entry';
import type { QuantityField as QuantityDefinition } from '@/lib/run/fields/table';
import { unitFieldName } from '@/lib/run/numberField';
import { UNITS } from '@/lib/units/unit';
import { type FieldRun, typed } from './fieldRun';
import { keepUnit } from './phone';
import type { Field } from './useField';

interface StepFieldsProps {
  step: CardStepFields;
  run: FieldRun;
  field: Field;
  remarks: Readonly<Record<string, readonly string[]>>;
  /** Between what a run cannot do without and the rest. */
  photos: ReactNode;
}

type Definition = QuantityDefinition | ChoiceEntry;

/** Every number and choice of one step, each asked once, in the display's own unit: first what a run must have. */
export function StepFields({ step, run, field, remarks, photos }: StepFieldsProps) {
  const all: readonly Definition[] = [...step.quantities, ...step.choices];
  const needed = all.filter(({ isRequired }) => isRequired);
  const others = all.filter(({ isRequired }) => !isRequired);
  const asked = (definition: Definition) =>
    definition.kind === 'quantity' ? (
      <Reading
        key={definition.name}
        definition={definition}
        run={run}
        field={field}
        remarks={remarks[definition.name]}
      />
    ) : (
      <Choice key={definition.name} definition={definition} run={run} field={field} />
    );
  // A step of nothing but optional fields would be an empty one if they were folded.
  const isFolded = others.length > 0 && (needed.length > 0 || step.key === 'before');
  const speaks = others.some(({ name }) => (run.form[name] ?? '') !== '' || remarks[name] !== undefined);
  return (
    <>
      {needed.map(asked)}
      {isFolded ? null : others.map(asked)}
      {photos}
      {isFolded ? (
        <Optional count={others.length} speaks={speaks}>
          {others.map(asked)}
        </Optional>
      ) : null}
    </>
  );
}

/** Folded until it holds something, or something has to be said about it. */
function Optional({ count, speaks, children }: { count: number; speaks: boolean; children: ReactNode }) {
  const [isOpen, setOpen] = useState(speaks);
  useEffect(() => {
    if (speaks) setOpen(true);
  }, [speaks]);
  return (
    <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary className="disclosure min-h-12">
        {count === 1 ? 'One more, if you know it' : `${count} more, if you know them`}
      </summary>
      <div className="mt-5 space-y-7">{children}</div>
    </details>
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

import { type ReactNode, useEffect, useState } from 'react';
import type { CardStepFields } from '@/lib/run/fields/cardSteps';
import type { ChoiceEntry } from '@/lib/run/fields/entry';
import type { QuantityField as QuantityDefinition } from '@/lib/run/fields/table';
import { CardField, type Typing } from './CardField';
import type { FieldRun } from './fieldRun';
import { typed } from './keptForm';
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
  // What the day says for all of its runs is asked there.
  const asks = ({ day }: Definition) => run.dayKey === undefined || day !== 'whole';
  const all = [...step.quantities, ...step.choices].filter(asks);
  const needed = all.filter(({ isRequired }) => isRequired);
  const others = all.filter(({ isRequired }) => !isRequired);
  const typing = typingOf(run, field);
  const asked = (definition: Definition) => (
    <CardField
      key={definition.name}
      definition={definition}
      typing={typing}
      remarks={remarks[definition.name]}
    />
  );
  // A step of nothing but optional fields would be an empty one if they were folded.
  const isFolded = others.length > 0 && (needed.length > 0 || step.key === 'before');
  const speaks = others.some(
    ({ name, day }) =>
      ((run.form[name] ?? '') !== '' && (run.dayKey === undefined || day === undefined)) ||
      remarks[name] !== undefined,
  );
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

function typingOf(run: FieldRun, field: Field): Typing {
  return {
    form: run.form,
    set: (name, value) => field.change(run.key, (now) => typed(now, name, value)),
    onUnit: (name, unit) => {
      const { carId } = run.form;
      if (field.phone && carId) void keepUnit(field.phone, run.accountId, carId, name, unit);
    },
  };
}

/** Folded until it holds something, or something has to be said about it. */
export function Optional({
  count,
  speaks,
  children,
}: {
  count: number;
  speaks: boolean;
  children: ReactNode;
}) {
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

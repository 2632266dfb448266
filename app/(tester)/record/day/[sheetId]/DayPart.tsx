import { useState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { Link } from '@/app/ui/Link';
import type { DaySheetView } from '@/lib/registry/sessionSheets/daySheet';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import type { InputIssue } from '@/lib/run/errors';
import type { RunForm } from '@/lib/run/runForm';
import { openForAll, SHARED_FIELDS } from '@/lib/run/sessionSheet';
import { aboveLimit } from '../../[runId]/LoopFields';
import { SheetField } from './SheetField';
import { dayId, dayName, sheetIdOfPath } from './sheetForm';

export interface SheetParts {
  view: DaySheetView;
  starting: RunForm;
  /** What the day says now. */
  day: RunForm;
  issues: readonly InputIssue[];
  remarks: Readonly<Record<string, readonly string[]>>;
}

/** What is the same for all runs of the day, said once: folded away when it is said. */
export function DayPart({ parts, onCar }: { parts: SheetParts; onCar: (carId: string) => void }) {
  const { view, day, issues, remarks, starting } = parts;
  const car = view.cars.find(({ id }) => id === day.carId);
  const loop = view.loops.find(({ id }) => id === day.loopId);
  const isWrong = issues.some(({ path }) => sheetIdOfPath(path).startsWith('day-'));
  const [isOpen, setOpen] = useState(() => openForAll(view.day).length > 0 || isWrong);
  const open = openForAll(day);
  return (
    <details
      open={isOpen || isWrong}
      onToggle={(event) => setOpen(event.currentTarget.open)}
      className="mt-6 border-t border-rule-strong pt-3"
    >
      <summary className="disclosure">
        <span className="font-serif text-xl font-semibold">The same all day</span>
      </summary>
      <p className="mt-2 max-w-[46rem] text-sm text-ink-soft">
        Copied into each run of the day that is not sent yet. A run that says otherwise keeps what it says.
      </p>
      <div className="mt-4 grid items-end gap-x-8 gap-y-5 sm:grid-cols-2 lg:grid-cols-3">
        <ChoiceField
          id={dayId('carId')}
          name={dayName('carId')}
          label="Car"
          required
          hint={car?.model}
          emptyLabel="Choose a car"
          options={view.cars.map((one) => ({ value: one.id, label: one.name }))}
          value={day.carId ?? ''}
          onValueChange={onCar}
          error={errorOf(issues, 'carId')}
        />
        <ChoiceField
          id={dayId('loopId')}
          name={dayName('loopId')}
          label="Loop"
          required
          hint={loop ? `${loop.length} out and back, posted limit ${loop.postedLimit}.` : undefined}
          emptyLabel="Choose a loop"
          options={view.loops.map((one) => ({ value: one.id, label: `${one.name}, ${one.region}` }))}
          defaultValue={starting[dayName('loopId')] ?? ''}
          error={errorOf(issues, 'loopId')}
        />
        <ChoiceField
          id={dayId('cruiseClassKey')}
          name={dayName('cruiseClassKey')}
          label="True speed to hold"
          required
          emptyLabel="Choose a speed"
          options={CRUISE_CLASSES.map((one) => ({ value: one.key, label: one.label }))}
          defaultValue={starting[dayName('cruiseClassKey')] ?? ''}
          error={aboveLimit(loop, day.cruiseClassKey) ?? errorOf(issues, 'cruiseClassKey')}
        />
        {SHARED_FIELDS.map((field) => (
          <SheetField
            key={field.name}
            field={field}
            of="day"
            starting={starting}
            day={day}
            remarks={view.open?.part[field.name] ? undefined : remarks[field.name]}
            error={field.day === 'whole' ? errorOf(issues, field.name) : undefined}
          />
        ))}
      </div>
      {view.cars.length === 0 || view.loops.length === 0 ? (
        <p className="mt-4 text-sm">
          <Link className="link" href="/my/cars">
            Add a car
          </Link>{' '}
          or{' '}
          <Link className="link" href="/my/loops/new">
            a loop
          </Link>{' '}
          first.
        </p>
      ) : null}
      {open.length > 0 ? (
        <p className="mt-4 text-sm text-ink-soft">Still open for all runs: {open.join(', ')}.</p>
      ) : null}
    </details>
  );
}

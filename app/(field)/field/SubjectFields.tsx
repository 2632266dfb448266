import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { cardTitle } from '@/lib/run/fields/fieldWords';
import type { RunForm } from '@/lib/run/runForm';
import { MOST_RADIOS } from './CardField';
import { carChosen, loopChosen } from './fieldRun';
import { typed } from './keptForm';

interface SubjectFieldsProps {
  form: RunForm;
  lists: FieldLists | undefined;
  onChange: (change: (form: RunForm) => RunForm) => void;
  /** A run of a day has its setup alone, the day all the rest; a run for itself has both. */
  asks?: 'all' | 'day' | 'setup';
}

/** Which car, setup, loop and speed: all of them chosen, none typed. */
export function SubjectFields({ form, lists, onChange, asks = 'all' }: SubjectFieldsProps) {
  if (lists === undefined) return null;
  const car = lists.cars.find(({ id }) => id === form.carId);
  const loop = lists.loops.find(({ id }) => id === form.loopId);
  const classes = CRUISE_CLASSES.filter(({ key }) => loop?.cruiseClassKeys.includes(key));
  const choice = (
    name: string,
    options: readonly { value: string; label: string; hint?: string }[],
    choose: (now: RunForm, value: string) => RunForm = (now, value) => typed({ form: now }, name, value).form,
  ) => (
    <ChoiceField
      name={name}
      label={cardTitle(name)}
      size="field"
      kind={options.length > MOST_RADIOS ? 'select' : 'radio'}
      emptyLabel="Choose"
      options={options}
      value={form[name] ?? ''}
      onValueChange={(value) => onChange((now) => choose(now, value))}
    />
  );
  const setup =
    car && asks !== 'day'
      ? choice(
          'setupId',
          car.setups.map(({ id, title }) => ({ value: id, label: title })),
        )
      : null;
  if (asks === 'setup') return setup;
  return (
    <>
      {choice(
        'carId',
        lists.cars.map(({ id, name, model }) => ({ value: id, label: name, hint: model })),
        (now, id) => carChosen({ form: now }, id, lists).form,
      )}
      {setup}
      {choice(
        'loopId',
        lists.loops.map(({ id, name, length, postedLimit }) => ({
          value: id,
          label: name,
          hint: `${length}, limit ${postedLimit}`,
        })),
        (now, id) => loopChosen({ form: now }, id, lists).form,
      )}
      {lists.hasMoreLoops ? (
        <p className="text-sm text-ink-soft">
          Other loops can be chosen once it is sent, in its form on the record page.
        </p>
      ) : null}
      {loop
        ? choice(
            'cruiseClassKey',
            classes.map(({ key, label }) => ({ value: key, label })),
          )
        : null}
    </>
  );
}

import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { cardTitle } from '@/lib/run/fields/fieldWords';
import { carChosen, type FieldRun, loopChosen, typed } from './fieldRun';
import type { Field } from './useField';

/** More than these are a select: a list of radios longer than a screen is no help to a thumb. */
const MOST_RADIOS = 6;

/** Which car, setup, loop and speed: all of them chosen, none typed. */
export function SubjectFields({ run, field }: { run: FieldRun; field: Field }) {
  const { lists } = field;
  if (lists === undefined) return null;
  const car = lists.cars.find(({ id }) => id === run.form.carId);
  const loop = lists.loops.find(({ id }) => id === run.form.loopId);
  const classes = CRUISE_CLASSES.filter(({ key }) => loop?.cruiseClassKeys.includes(key));
  const change = field.change;
  const choice = (
    name: string,
    options: readonly { value: string; label: string; hint?: string }[],
    choose: (now: FieldRun, value: string) => FieldRun = (now, value) => typed(now, name, value),
  ) => (
    <ChoiceField
      name={name}
      label={cardTitle(name)}
      size="field"
      kind={options.length > MOST_RADIOS ? 'select' : 'radio'}
      emptyLabel="Choose"
      options={options}
      value={run.form[name] ?? ''}
      onValueChange={(value) => change(run.key, (now) => choose(now, value))}
    />
  );
  return (
    <>
      {choice(
        'carId',
        lists.cars.map(({ id, name, model }) => ({ value: id, label: name, hint: model })),
        (now, id) => carChosen(now, id, lists),
      )}
      {car
        ? choice(
            'setupId',
            car.setups.map(({ id, title }) => ({ value: id, label: title })),
          )
        : null}
      {choice(
        'loopId',
        lists.loops.map(({ id, name, length, postedLimit }) => ({
          value: id,
          label: name,
          hint: `${length}, limit ${postedLimit}`,
        })),
        (now, id) => loopChosen(now, id, lists),
      )}
      {lists.hasMoreLoops ? (
        <p className="text-sm text-ink-soft">
          Other loops can be chosen once the run is sent, in its form on the record page.
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

import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { FieldError } from '@/app/ui/forms/Field';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { Link } from '@/app/ui/Link';
import type { FormLoop } from '@/lib/registry/runs/formSubjects';
import { CRUISE_CLASSES, cruiseClassByKey } from '@/lib/run/cruiseClass';
import { fieldNamed } from '@/lib/run/fields/table';
import type { FormParts } from './formParts';
import { hintOf } from './ReadingFields';

const LOOP = fieldNamed('loopId');
const CLASS = fieldNamed('cruiseClassKey');

interface LoopFieldsProps {
  parts: FormParts;
  onLoop: (loopId: string) => void;
  onClass: (cruiseClassKey: string) => void;
}

/** The loop, and a cruise class that its posted limit allows. */
export function LoopFields({ parts, onLoop, onClass }: LoopFieldsProps) {
  const { view, values, issues } = parts;
  const loop = view.loops.find((one) => one.id === values.loopId);
  return (
    <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
      <div>
        <ChoiceField
          name={LOOP.name}
          label={LOOP.label}
          required
          hint={hintOf(
            'loopId',
            loop ? `${loop.length} out and back, posted limit ${loop.postedLimit}.` : LOOP.hint,
            parts,
          )}
          emptyLabel="Choose a loop"
          options={view.loops.map((one) => ({ value: one.id, label: `${one.name}, ${one.region}` }))}
          value={values.loopId ?? ''}
          onValueChange={onLoop}
          error={errorOf(issues, 'loopId')}
        />
        <p className="mt-1.5 flex flex-wrap items-center gap-x-6 text-sm">
          <Link href={`/my/loops/new?run=${view.runId}`} className="link inline-flex min-h-6 items-center">
            Add a loop
          </Link>
          {view.hasMoreLoops ? (
            // Sends the form, so that what was typed is kept on the way to the list and back.
            <button
              type="submit"
              name="intent"
              value="loop"
              className="link inline-flex min-h-6 items-center"
            >
              Find a loop that is not in the list
            </button>
          ) : null}
        </p>
      </div>
      <ChoiceField
        name={CLASS.name}
        label={CLASS.label}
        required
        hint={hintOf('cruiseClassKey', CLASS.hint, parts)}
        emptyLabel="Choose a speed"
        options={CRUISE_CLASSES.map((one) => {
          const isAbove = loop !== undefined && !loop.cruiseClassKeys.includes(one.key);
          return {
            value: one.key,
            label: isAbove ? `${one.label}: above the posted limit` : one.label,
            // The one that stands there stays readable, with the reason beside it.
            disabled: isAbove && one.key !== values.cruiseClassKey,
          };
        })}
        value={values.cruiseClassKey ?? ''}
        onValueChange={onClass}
        error={aboveLimit(loop, values.cruiseClassKey) ?? errorOf(issues, 'cruiseClassKey')}
      />
    </div>
  );
}

/** A class above the posted limit of the loop is refused at once. */
export function aboveLimit(loop: FormLoop | undefined, cruiseClassKey = ''): FieldError | undefined {
  const cruiseClass = cruiseClassByKey(cruiseClassKey);
  if (loop === undefined || cruiseClass === undefined || loop.cruiseClassKeys.includes(cruiseClassKey)) {
    return undefined;
  }
  return {
    what: `${cruiseClass.label} is above the posted limit of ${loop.name}, ${loop.postedLimit}.`,
    why: 'Posted limits and local law come first: such a run is not accepted.',
    fix: 'Choose a class at or below the limit, or the loop that was driven.',
  };
}

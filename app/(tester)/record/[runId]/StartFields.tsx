import { CheckField } from '@/app/ui/forms/CheckField';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { TextField } from '@/app/ui/forms/TextField';
import { fieldNamed } from '@/lib/run/fields/table';
import { offsetLabel, UTC_OFFSETS_MIN } from '@/lib/run/utcOffset';
import type { FormParts } from './formParts';
import { hintOf } from './ReadingFields';

/** When the run began, and whether it was noted on the day. */
export function StartFields({ parts }: { parts: FormParts }) {
  const { starting, issues } = parts;
  const start = fieldNamed('startedAtLocal');
  const offset = fieldNamed('utcOffsetMin');
  const retrospective = fieldNamed('isRetrospective');
  return (
    <>
      <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
        <TextField
          name={start.name}
          label={start.label}
          type="datetime-local"
          required
          hint={hintOf(start.name, start.hint, parts)}
          defaultValue={starting.startedAtLocal ?? ''}
          error={errorOf(issues, 'startedAtLocal')}
        />
        <ChoiceField
          name={offset.name}
          label={offset.label}
          required
          hint={hintOf(offset.name, offset.hint, parts)}
          emptyLabel="Choose the offset"
          options={UTC_OFFSETS_MIN.map((minutes) => ({
            value: String(minutes),
            label: offsetLabel(minutes),
          }))}
          defaultValue={starting.utcOffsetMin ?? ''}
          error={errorOf(issues, 'utcOffsetMin')}
        />
      </div>
      <CheckField
        name={retrospective.name}
        label={retrospective.label}
        hint={hintOf(retrospective.name, retrospective.hint, parts)}
        defaultChecked={starting.isRetrospective === 'yes'}
        error={errorOf(issues, 'isRetrospective')}
      />
    </>
  );
}

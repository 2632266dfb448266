import { Fragment } from 'react';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { TextField } from '@/app/ui/forms/TextField';
import type { RunSection } from '@/lib/run/fields/sections';
import { TEXT_FIELDS } from '@/lib/run/fields/table';
import type { FormParts } from './formParts';
import { hintOf } from './ReadingFields';
import { WeatherBox } from './weather/WeatherBox';

/** The longest text that a draft takes. */
const MAX_LENGTH = 4000;

/** The texts that close a section; under a station's report stands what can be read from it. */
export function TextFields({ section, parts }: { section: RunSection; parts: FormParts }) {
  return TEXT_FIELDS.filter((field) => field.section === section).map(
    ({ name, label, hint, isRequired, rows, isVerbatim }) => (
      <Fragment key={name}>
        <TextField
          name={name}
          label={label}
          multiline
          required={isRequired}
          rows={rows}
          maxLength={MAX_LENGTH}
          spellCheck={isVerbatim ? false : undefined}
          hint={hintOf(name, hint, parts)}
          defaultValue={parts.starting[name] ?? ''}
          error={errorOf(parts.issues, name)}
        />
        {name === 'stationReport' ? <WeatherBox /> : null}
      </Fragment>
    ),
  );
}

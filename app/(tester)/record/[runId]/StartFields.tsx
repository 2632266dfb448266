import { CheckField } from '@/app/ui/forms/CheckField';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { TextField } from '@/app/ui/forms/TextField';
import type { FormParts } from './formParts';
import { hintOf } from './ReadingFields';
import { WeatherBox } from './weather/WeatherBox';

/** Offsets from UTC in use somewhere, in minutes (tz database; from memory). */
const OFFSETS_MIN = [
  ...Array.from({ length: 27 }, (_, index) => (index - 12) * 60),
  ...[-570, -210, -150, 210, 270, 330, 345, 390, 525, 570, 630, 765],
].sort((a, b) => a - b);

export function offsetLabel(minutes: number): string {
  const size = Math.abs(minutes);
  const clock = `${String(Math.floor(size / 60)).padStart(2, '0')}:${String(size % 60).padStart(2, '0')}`;
  return minutes === 0 ? 'UTC' : `UTC${minutes < 0 ? '−' : '+'}${clock}`;
}

/** When the run began, and whether it was noted on the day. */
export function StartFields({ parts }: { parts: FormParts }) {
  const { starting, issues } = parts;
  return (
    <>
      <div className="grid items-start gap-x-10 gap-y-6 sm:grid-cols-2">
        <TextField
          name="startedAtLocal"
          label="Start: date and local time"
          type="datetime-local"
          required
          hint={hintOf('startedAtLocal', 'By the clock at the loop.', parts)}
          defaultValue={starting.startedAtLocal ?? ''}
          error={errorOf(issues, 'startedAtLocal')}
        />
        <ChoiceField
          name="utcOffsetMin"
          label="Time zone on that day"
          required
          hint={hintOf('utcOffsetMin', 'Offset from UTC, summer time included.', parts)}
          emptyLabel="Choose the offset"
          options={OFFSETS_MIN.map((minutes) => ({ value: String(minutes), label: offsetLabel(minutes) }))}
          defaultValue={starting.utcOffsetMin ?? ''}
          error={errorOf(issues, 'utcOffsetMin')}
        />
      </div>
      <CheckField
        name="isRetrospective"
        label="Entered later from old notes or a video"
        hint={hintOf('isRetrospective', 'Such runs are welcome and marked.', parts)}
        defaultChecked={starting.isRetrospective === 'yes'}
        error={errorOf(issues, 'isRetrospective')}
      />
    </>
  );
}

/** The station's report and free notes, which close the conditions. */
export function NoteFields({ parts }: { parts: FormParts }) {
  const { starting, issues } = parts;
  return (
    <>
      <TextField
        name="stationReport"
        label="Station report"
        multiline
        rows={3}
        maxLength={4000}
        spellCheck={false}
        hint={hintOf(
          'stationReport',
          'Where you have them: METAR or SPECI as issued, one a line. They can fill the fields above, and are kept as the source.',
          parts,
        )}
        defaultValue={starting.stationReport ?? ''}
        error={errorOf(issues, 'stationReport')}
      />
      <WeatherBox />
      <TextField
        name="notes"
        label="Notes"
        multiline
        maxLength={4000}
        hint={hintOf(
          'notes',
          'Anything a reviewer should know. Readers see it: no plates, no addresses.',
          parts,
        )}
        defaultValue={starting.notes ?? ''}
        error={errorOf(issues, 'notes')}
      />
    </>
  );
}

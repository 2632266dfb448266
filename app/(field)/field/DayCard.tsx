import { useState } from 'react';
import { dayLine } from '@/app/(tester)/record/dayLine';
import { Button } from '@/app/ui/Button';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { Notice } from '@/app/ui/Notice';
import type { FieldEntry } from '@/lib/run/fields/entry';
import { titlesInWords } from '@/lib/run/fields/fieldWords';
import { dayWords } from '@/lib/run/localDate';
import { DAY_NAMES, openForAll, SHARED_FIELDS } from '@/lib/run/sessionSheet';
import { orderWords, proposedSetup } from '@/lib/run/setupOrder';
import { nextToDrive, planWords, studyOf } from '@/lib/study/nextToDrive';
import { CardField, MOST_RADIOS } from './CardField';
import { ConflictChoice } from './ConflictChoice';
import { FootBar } from './FootBar';
import { type FieldDay, runOfDay } from './fieldDay';
import { drivenHere } from './fieldRun';
import { DayKeptNote, DayKeptWords } from './Kept';
import { conflictSettled, typed } from './keptForm';
import { keepUnit } from './phone';
import { RunLine } from './RunLine';
import { Optional } from './StepFields';
import { HEADING_ID } from './StepHeading';
import { SubjectFields } from './SubjectFields';
import type { Field } from './useField';

/** Behind the hash, beside the keys of runs. */
export function dayAddress(key: string): string {
  return `day-${key}`;
}

interface DayCardProps {
  field: Field;
  day: FieldDay;
  /** Another run or day, or the list of all by an empty key. */
  onOpen: (key: string) => void;
}

/** What the runs of a day share, said once, and run after run: same again, other setup. */
export function DayCard({ field, day, onOpen }: DayCardProps) {
  const { lists } = field;
  const [isOpen, setOpen] = useState(() => openForAll(day.form).length > 0);
  const runs = field.runs.filter(({ run }) => run.dayKey === day.key);
  const isReady = Boolean(day.form.carId && day.form.loopId && day.form.cruiseClassKey);
  return (
    <>
      <h2 id={HEADING_ID} tabIndex={-1} className="mt-4 scroll-mt-20">
        Runs of {dayWords(day.localDate)}
      </h2>
      {day.conflict ? (
        <ConflictChoice
          kept={day}
          names={DAY_NAMES}
          lists={lists}
          onSettle={(choices) => field.changeDay(day.key, (now) => conflictSettled(now, choices, DAY_NAMES))}
        />
      ) : null}
      {day.taken?.length ? (
        <Notice kind="info" title={`Taken over from elsewhere: ${titlesInWords(day.taken)}.`} live />
      ) : null}
      {lists ? <p className="mt-1 text-sm">{dayLine(lists, day.form)}</p> : null}
      <details
        open={isOpen}
        onToggle={(event) => setOpen(event.currentTarget.open)}
        className="mt-4 border-t border-rule-strong pt-2"
      >
        <summary className="disclosure min-h-12 font-semibold">The same all day</summary>
        <p className="mt-2 text-sm text-ink-soft">
          Copied into each run of the day that is not sent in for review yet. A run that says otherwise keeps
          what it says.
        </p>
        <div className="mt-5 space-y-7">
          <DayFields field={field} day={day} />
        </div>
      </details>
      {isReady ? (
        <NextOfDay key={runs.length} field={field} day={day} onOpen={onOpen} />
      ) : (
        <p className="mt-6">Choose car, loop and speed, and the first run can begin.</p>
      )}
      {runs.length > 0 ? (
        <>
          <h3 className="mt-8">Runs on this phone</h3>
          <ul className="mt-3 space-y-3">
            {runs.map((kept) => (
              <RunLine key={kept.run.key} kept={kept} field={field} onOpen={onOpen} />
            ))}
          </ul>
        </>
      ) : null}
      <DayKeptNote day={day} field={field} />
      <FootBar>
        <Button className="min-h-12" onClick={() => onOpen('')}>
          All runs
        </Button>
        <DayKeptWords day={day} />
      </FootBar>
    </>
  );
}

/** On the road nothing is entered later from old notes. */
const ASKED = SHARED_FIELDS.filter(({ name }) => name !== 'isRetrospective');

/** What every run needs of the day first, the rest folded. */
function DayFields({ field, day }: { field: Field; day: FieldDay }) {
  const { lists, phone } = field;
  const { key, accountId, form } = day;
  const typing = {
    form,
    set: (name: string, value: string) => field.changeDay(key, (now) => typed(now, name, value)),
    onUnit: (name: string, unit: string) => {
      if (phone && form.carId) void keepUnit(phone, accountId, form.carId, name, unit);
    },
  };
  const asked = (definition: FieldEntry) => (
    <CardField key={definition.name} definition={definition} typing={typing} />
  );
  const needed = ASKED.filter(({ isRequired }) => isRequired);
  const others = ASKED.filter(({ isRequired }) => !isRequired);
  return (
    <>
      <SubjectFields
        form={form}
        lists={lists}
        asks="day"
        onChange={(change) => field.changeDay(key, (now) => ({ ...now, form: change(now.form) }))}
      />
      {needed.map(asked)}
      <Optional count={others.length} speaks={false}>
        {others.map(asked)}
      </Optional>
    </>
  );
}

/** The next run with all that the day says: only its setup is chosen, as the plan or a balanced order proposes it. */
function NextOfDay({ field, day, onOpen }: DayCardProps) {
  const { carId = '' } = day.form;
  const own = field.runs
    .map(({ run }) => run)
    .filter(({ dayKey }) => dayKey === day.key)
    .toSorted((a, b) => a.createdAtMs - b.createdAtMs);
  const driven = own.flatMap(({ form }) => form.setupId || []);
  const begunForStudyId = own.at(-1)?.studyId;
  const study = studyOf(field.lists?.studies ?? [], { ...day.form, setupId: undefined, begunForStudyId });
  const here = { day: day.localDate, carId };
  const planned =
    study &&
    nextToDrive(
      study,
      drivenHere(
        field.runs.map(({ run }) => run),
        study,
        here,
      ),
    );
  const balancing = proposedSetup(driven);
  const setups = field.lists?.cars.find(({ id }) => id === carId)?.setups ?? [];
  const proposed = planned?.setupId ?? balancing?.setupId ?? driven.at(-1) ?? setups[0]?.id ?? '';
  const [chosen, setChosen] = useState<string>();
  const begin = async () => {
    const run = await field.begin((now, lists) => ({
      ...runOfDay(now, day, chosen ?? proposed, lists),
      studyId: study?.studyId,
    }));
    if (run !== undefined) onOpen(run.key);
  };
  return (
    <section aria-label="The next run" className="mt-6 space-y-4 border-t border-rule-strong pt-4">
      {study && planned ? <p className="text-sm">{planWords(study, planned)}</p> : null}
      <ChoiceField
        name="nextSetupId"
        label={own.length === 0 ? 'Setup of the first run' : 'Setup of the next run'}
        hint={planned?.setupId ? 'By the plan of the study.' : orderWords(balancing?.order)}
        size="field"
        kind={setups.length > MOST_RADIOS ? 'select' : 'radio'}
        options={setups.map(({ id, title }) => ({ value: id, label: title }))}
        value={chosen ?? proposed}
        onValueChange={setChosen}
      />
      <Button variant="primary" size="field" onClick={begin}>
        {own.length === 0 ? 'Begin the first run' : 'Same again with this setup'}
      </Button>
    </section>
  );
}

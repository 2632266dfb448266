import { z } from 'zod';
import { type FieldEntry, inSectionOrder } from './fields/entry';
import { QUANTITY_FIELDS, type QuantityField, RUN_FIELDS } from './fields/table';
import { unitFieldName } from './numberField';
import { draftNames, RUN_FORM_NAMES, type RunForm } from './runForm';

/**
 * The sheet of a session: what is the same for all runs of a car on a loop on one day is said once and copied into
 * each draft. What is shared follows from the table of fields; a draft that says otherwise keeps what it says.
 */
const DAY_FIELDS: readonly FieldEntry[] = RUN_FIELDS.filter((field: FieldEntry) => field.day !== undefined);

/** What a day says besides car, loop and class, in the order of a form. */
export const SHARED_FIELDS: readonly FieldEntry[] = inSectionOrder(
  DAY_FIELDS.filter(({ kind }) => kind !== 'subject'),
);

/** The names of the form that a day's part holds, units among them. */
export const DAY_NAMES: readonly string[] = draftNames(DAY_FIELDS);

/** Of a form what a day says, and nothing else that was sent along. */
export function dayOf(form: RunForm): RunForm {
  return Object.fromEntries(
    DAY_NAMES.flatMap((name) => {
      const text = form[name];
      return text === undefined || text === '' ? [] : [[name, text]];
    }),
  );
}

const WHOLE_DAY: ReadonlySet<string> = new Set(
  draftNames(DAY_FIELDS.filter((field) => field.day === 'whole')),
);

/** On the sheet the day stands above: of a run's start only the time is asked. */
export const START_TIME = 'startTime';

/** The names of the form that each run has for itself; what the day says unless otherwise stands among them. */
export const RUN_PART_NAMES: readonly string[] = RUN_FORM_NAMES.flatMap((name) =>
  WHOLE_DAY.has(name) ? [] : [name === 'startedAtLocal' ? START_TIME : name],
);

/** A day as its name, yyyy-mm-dd; 31 February is none. */
export const dayText = z
  .string()
  .regex(/^20\d\d-\d\d-\d\d$/, 'This is no day. | A sheet is of one day at the loop. | Choose a day.')
  .refine((day) => !Number.isNaN(Date.parse(day)) && new Date(day).toISOString().startsWith(day), {
    message: 'This is no day. | The calendar has none of that name. | Choose a day.',
  });

/** The labels of what every run needs and the day does not say yet. */
export function openForAll(day: RunForm): string[] {
  return DAY_FIELDS.filter(
    (field) => field.day === 'whole' && field.isRequired && typed(day, field.name) === '',
  ).map(({ label }) => label.toLowerCase());
}

/** Whether two forms say the same in a field: the text, and with a number its unit. */
function saysTheSame({ kind, name }: FieldEntry, a: RunForm, b: RunForm): boolean {
  const text = typed(a, name);
  if (text !== typed(b, name)) return false;
  return text === '' || kind !== 'quantity' || a[unitFieldName(name)] === b[unitFieldName(name)];
}

function typed(form: RunForm, name: string): string {
  return (form[name] ?? '').trim();
}

/** Takes a field with its unit from one form into another, or empties it there. */
function copyField({ kind, name }: FieldEntry, from: RunForm, into: RunForm): void {
  for (const each of kind === 'quantity' ? [name, unitFieldName(name)] : [name]) {
    const text = from[each];
    if (text === undefined || text === '') delete into[each];
    else into[each] = text;
  }
}

/**
 * The draft after the day's part changed: what it left open or had from the day follows, what it says itself stays.
 */
export function withDay(draft: RunForm, before: RunForm, after: RunForm): RunForm {
  const form = { ...draft };
  for (const field of DAY_FIELDS) {
    if (typed(draft, field.name) === '' || saysTheSame(field, draft, before)) copyField(field, after, form);
  }
  return form;
}

/**
 * What a run and its copy elsewhere came from, where that copy has followed the day: a value that it has from the day is
 * nobody's answer for the run, so that what the run says otherwise stands unasked.
 */
export function baseBesideDay(
  base: RunForm,
  { mine, theirs, day }: { mine: RunForm; theirs: RunForm; day: RunForm },
): RunForm {
  const beside = { ...base };
  for (const field of DAY_FIELDS) {
    if (!saysTheSame(field, mine, base) && saysTheSame(field, theirs, day)) copyField(field, theirs, beside);
  }
  return beside;
}

/** What a run's own part of the sheet shows: what the day says too is left out. */
export function runPart(draft: RunForm, day: RunForm): RunForm {
  const part: RunForm = {};
  for (const name of RUN_PART_NAMES) if (draft[name]) part[name] = draft[name];
  for (const field of DAY_FIELDS) if (saysTheSame(field, draft, day)) copyField(field, {}, part);
  const time = /T(\d\d:\d\d)/.exec(draft.startedAtLocal ?? '')?.[1];
  if (time !== undefined) part[START_TIME] = time;
  return part;
}

/**
 * The whole form of a run: its own part as typed, the day's values where that is silent. What it was given elsewhere
 * for a field that is not asked here stays, and so does its own date.
 */
export function wholeForm(stored: RunForm, part: RunForm, day: RunForm, localDate: string): RunForm {
  const form: RunForm = {};
  for (const name of RUN_PART_NAMES) if (name !== START_TIME && part[name]) form[name] = part[name];
  for (const field of DAY_FIELDS) {
    if (field.day === 'whole') copyField(field, typed(stored, field.name) === '' ? day : stored, form);
    else if (typed(part, field.name) === '') copyField(field, day, form);
  }
  const time = typed(part, START_TIME);
  const date = /^\d{4}-\d\d-\d\d/.exec(stored.startedAtLocal ?? '')?.[0] ?? localDate;
  if (time !== '') form.startedAtLocal = `${date}T${time}`;
  return form;
}

/** The names of fields that a run has otherwise than its day, for a note beside it. */
export function otherThanDay(draft: RunForm, day: RunForm): string[] {
  return DAY_FIELDS.filter((field) => !saysTheSame(field, draft, day)).map(({ name }) => name);
}

/** What of an earlier run starts a sheet: all that it shares on the same day, else what was not measured or read. */
export function dayFrom(form: RunForm, isSameDay: boolean): RunForm {
  const day: RunForm = {};
  for (const field of DAY_FIELDS) {
    const isLasting = field.day === 'whole' && (field.kind !== 'quantity' || field.instrument === 'placard');
    if (isSameDay || isLasting) copyField(field, form, day);
  }
  if (!isSameDay) delete day.isRetrospective;
  return day;
}

/** A number that the finish of the run before makes likely for this start. It is offered and never put in unasked. */
export interface Offer {
  name: string;
  label: string;
  text: string;
  unit: string;
}

/** What can be offered for fields that are still empty. */
export function offersFrom(before: RunForm | undefined, part: RunForm): Offer[] {
  if (before === undefined) return [];
  return QUANTITY_FIELDS.flatMap((field: QuantityField) => {
    const text = field.follows === undefined ? '' : typed(before, field.follows);
    if (field.follows === undefined || text === '' || typed(part, field.name) !== '') return [];
    const unit = before[unitFieldName(field.follows)] ?? field.units[0];
    return [{ name: field.name, label: field.label, text, unit }];
  });
}

/** In the order of their starts; those without one come last, in the order in which they were begun. */
export function inTimeOrder<Run extends { number: number; form: RunForm }>(runs: readonly Run[]): Run[] {
  const key = ({ form }: Run) => form.startedAtLocal || '~';
  return runs.toSorted((a, b) => (key(a) < key(b) ? -1 : key(a) > key(b) ? 1 : a.number - b.number));
}

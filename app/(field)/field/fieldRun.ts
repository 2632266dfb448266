import { changedNames, startingValues } from '@/app/(tester)/record/formValues';
import type { FieldLists, ServerDraft } from '@/lib/registry/runs/fieldCard';
import type { CardStep } from '@/lib/run/fields/entry';
import { QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { dayOfClock, wallClock } from '@/lib/run/localDate';
import { type MergedForms, mergeForms, type Side, settled } from '@/lib/run/mergeForms';
import { unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import { type DrivenHere, isOfStudy, type StudyToDrive } from '@/lib/study/nextToDrive';

/** A run as a phone keeps it, with what it knows of the server's copy. */
export interface FieldRun {
  /** Made once on the phone: however often the run is sent, it is one run. */
  key: string;
  accountId: string;
  createdAtMs: number;
  step: CardStep;
  form: RunForm;
  /** The clock: instants of the phone, so that it goes on through a reload or an empty battery. */
  startedAtMs?: number;
  finishedAtMs?: number;
  /** What the server is known to hold. */
  server?: { runId: string; number: number; version: number; form: RunForm };
  /** What was sent and not answered yet: it is sent again as it was, and a lost answer is recognised by it. */
  underway?: RunForm;
  /**
   * The server's version where the same fields were changed elsewhere, and what both came from; nothing is sent until
   * the tester has chosen.
   */
  conflict?: { version: number; form: RunForm; isEditable: boolean; base?: RunForm };
  /** Fields that were changed elsewhere and taken over, to be told. */
  taken?: readonly string[];
  /** What the server said when it would not take the form; sending waits for a change. */
  refusal?: { message: string; form: RunForm };
}

/** A photo as a phone keeps it until the server has it. */
export interface FieldPhoto {
  /** Run, kind and content: the same picture chosen twice is one. */
  id: string;
  runKey: string;
  accountId: string;
  kind: string;
  bytes: Uint8Array<ArrayBuffer>;
  mediaType: string;
  addedAtMs: number;
  sentAtMs?: number;
  /** Why the server would not take it. */
  refusal?: string;
}

export function newFieldRun(key: string, lists: FieldLists, nowMs: number): FieldRun {
  return {
    key,
    accountId: lists.accountId,
    createdAtMs: nowMs,
    step: 'before',
    form: startingValues({}, lists.units),
  };
}

/** A run as the plan of a study has it next: car, setup, loop and class are chosen. */
export function plannedRun(
  run: FieldRun,
  { loopId, cruiseClassKey }: Pick<StudyToDrive, 'loopId' | 'cruiseClassKey'>,
  { carId, setupId }: { carId: string; setupId: string },
  lists: FieldLists,
): FieldRun {
  const ofCar = carChosen(run, carId, lists);
  return { ...ofCar, form: { ...ofCar.form, setupId, loopId, cruiseClassKey } };
}

/** What the phone knows of one day with a car: its own runs of a study, those sent already by their numbers. */
export function drivenHere(
  runs: readonly FieldRun[],
  study: StudyToDrive,
  here: { day: string; carId: string },
): DrivenHere {
  const own = runs.filter(
    ({ form, createdAtMs }) =>
      form.carId === here.carId &&
      isOfStudy(study, form) &&
      study.setups.some(({ id }) => id === form.setupId) &&
      dayOfClock(form.startedAtLocal || localDay(createdAtMs)) === here.day,
  );
  return {
    ...here,
    runs: own
      .toSorted((a, b) => a.createdAtMs - b.createdAtMs)
      .map(({ server, form }) => ({ number: server?.number, setupId: form.setupId ?? '' })),
  };
}

/** The day by the phone's clock. */
export function localDay(atMs: number): string {
  return dayOfClock(wallClock(atMs, -new Date(atMs).getTimezoneOffset()));
}

/** One field changed. */
export function typed(run: FieldRun, name: string, value: string): FieldRun {
  return { ...run, form: { ...run.form, [name]: value } };
}

/** The car chosen: quantities still empty take the units of its display; another model's setup is let go. */
export function carChosen(run: FieldRun, carId: string, lists: FieldLists): FieldRun {
  const car = lists.cars.find((one) => one.id === carId);
  const form: RunForm = { ...run.form, carId };
  for (const { name } of QUANTITY_FIELDS) {
    const unit = car?.units[name] ?? lists.units[name];
    if ((form[name] ?? '') === '' && unit !== undefined) form[unitFieldName(name)] = unit;
  }
  const setups = car?.setups ?? [];
  if (!setups.some(({ id }) => id === form.setupId)) {
    form.setupId = setups.length === 1 ? (setups[0]?.id ?? '') : '';
  }
  return { ...run, form };
}

/** The loop chosen; a speed class above its limit is let go. */
export function loopChosen(run: FieldRun, loopId: string, lists: FieldLists): FieldRun {
  const allowed = lists.loops.find((one) => one.id === loopId)?.cruiseClassKeys ?? [];
  const cruiseClassKey = allowed.includes(run.form.cruiseClassKey ?? '') ? run.form.cruiseClassKey : '';
  return { ...run, form: { ...run.form, loopId, cruiseClassKey: cruiseClassKey ?? '' } };
}

/** The clock starts: date, time and offset of the phone become the run's. Started again, it begins anew. */
export function clockStarted(run: FieldRun, now: Date): FieldRun {
  const offsetMin = -now.getTimezoneOffset();
  const form = {
    ...run.form,
    startedAtLocal: wallClock(now.getTime(), offsetMin),
    utcOffsetMin: String(offsetMin),
  };
  return { ...run, form, startedAtMs: now.getTime(), finishedAtMs: undefined, step: 'turnaround' };
}

export function clockStopped(run: FieldRun, nowMs: number): FieldRun {
  return { ...run, finishedAtMs: nowMs };
}

/** Time since the start, or of the whole run once it is over; none before. */
export function elapsedMs(run: FieldRun, nowMs: number): number | undefined {
  if (run.startedAtMs === undefined) return undefined;
  return Math.max(0, (run.finishedAtMs ?? nowMs) - run.startedAtMs);
}

/** h:mm:ss */
export function clockWords(milliseconds: number): string {
  const seconds = Math.floor(milliseconds / 1000);
  const two = (value: number) => String(value).padStart(2, '0');
  return `${Math.floor(seconds / 3600)}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
}

/** Is there anything worth keeping on the server? Opening an empty card makes no draft there. */
export function hasContent(run: FieldRun, photos: readonly FieldPhoto[]): boolean {
  const isReading = ({ name }: { name: string }) => (run.form[name] ?? '').trim() !== '';
  return run.startedAtMs !== undefined || photos.length > 0 || QUANTITY_FIELDS.some(isReading);
}

export function isSameForm(a: RunForm, b: RunForm): boolean {
  return changedNames(a, b).length === 0;
}

/** The server has answered with what it holds now. */
export function serverHolds(run: FieldRun, draft: ServerDraft): FieldRun {
  const { underway: _sent, ...rest } = run;
  const { runId, number, draftVersion: version, form } = draft;
  return { ...rest, server: { runId, number, version, form } };
}

/**
 * The server holds a change that was made elsewhere. Other fields than the phone's are taken over; where both changed
 * the same one, or the run can be changed no more, the tester has to choose.
 */
export function changedElsewhere(run: FieldRun, draft: ServerDraft, base: RunForm): FieldRun {
  const held = serverHolds(run, draft);
  const { draftVersion: version, form, isEditable } = draft;
  const merged = mergeForms(base, run.form, form);
  if (!isEditable || merged.asked.length > 0) {
    return { ...held, conflict: { version, form, isEditable, base } };
  }
  return { ...held, form: merged.form, taken: merged.taken };
}

/** What the tester is asked about this conflict by what the phone holds now; nothing of a run that is closed. */
export function askedOf(run: FieldRun): MergedForms {
  const { form = {}, base = {} } = run.conflict ?? {};
  return mergeForms(base, run.form, form);
}

/** The tester has chosen, field by field; a run that can be changed no more is taken as the server holds it. */
export function conflictSettled(run: FieldRun, choices: ReadonlyMap<string, Side>): FieldRun {
  const { conflict, ...rest } = run;
  if (conflict === undefined || run.server === undefined) return run;
  const { version, form, isEditable } = conflict;
  return {
    ...rest,
    form: isEditable ? settled(askedOf(run), choices) : { ...form },
    server: { ...run.server, version, form },
  };
}

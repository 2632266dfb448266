import { startingValues } from '@/app/(tester)/record/formValues';
import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import type { CardStep, FieldEntry } from '@/lib/run/fields/entry';
import { QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { dayOfClock, wallClock } from '@/lib/run/localDate';
import { unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import type { RunStatus } from '@/lib/run/runStatus';
import { type DrivenHere, isOfStudy, type StudyToDrive } from '@/lib/study/nextToDrive';
import type { HeldForm, KeptForm } from './keptForm';

/** A run as a phone keeps it, with what it knows of the server's copy. */
export interface FieldRun extends KeptForm {
  step: CardStep;
  /** The clock: instants of the phone, so that it goes on through a reload or an empty battery. */
  startedAtMs?: number | undefined;
  finishedAtMs?: number | undefined;
  /** The day on whose sheet it is noted, by the key that the phone keeps it under. */
  dayKey?: string | undefined;
  /** The study by whose plan it was begun. */
  studyId?: string | undefined;
  server?: (HeldForm & { runId: string; number: number; status?: RunStatus }) | undefined;
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

/** What the phone knows of one day with a car: its own runs of a study, those sent already by their numbers. */
export function drivenHere(
  runs: readonly FieldRun[],
  study: StudyToDrive,
  here: { day: string; carId: string },
): DrivenHere {
  const own = runs.filter(
    ({ form, studyId, createdAtMs }) =>
      form.carId === here.carId &&
      isOfStudy(study, form) &&
      (studyId === undefined || studyId === study.studyId) &&
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

/** The car chosen: quantities still empty take the units of its display; another model's setup is let go. */
export function carChosen<Kept extends { form: RunForm }>(
  kept: Kept,
  carId: string,
  lists: FieldLists,
): Kept {
  const car = lists.cars.find((one) => one.id === carId);
  const form: RunForm = { ...kept.form, carId };
  for (const { name } of QUANTITY_FIELDS) {
    const unit = car?.units[name] ?? lists.units[name];
    if ((form[name] ?? '') === '' && unit !== undefined) form[unitFieldName(name)] = unit;
  }
  const setups = car?.setups ?? [];
  if (!setups.some(({ id }) => id === form.setupId)) {
    form.setupId = setups.length === 1 ? (setups[0]?.id ?? '') : '';
  }
  return { ...kept, form };
}

/** The loop chosen; a speed class above its limit is let go. */
export function loopChosen<Kept extends { form: RunForm }>(
  kept: Kept,
  loopId: string,
  lists: FieldLists,
): Kept {
  const allowed = lists.loops.find((one) => one.id === loopId)?.cruiseClassKeys ?? [];
  const cruiseClassKey = allowed.includes(kept.form.cruiseClassKey ?? '') ? kept.form.cruiseClassKey : '';
  return { ...kept, form: { ...kept.form, loopId, cruiseClassKey: cruiseClassKey ?? '' } };
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

/**
 * Is there anything worth keeping on the server? Opening an empty card makes no draft there, and what a run has from its
 * day is kept with the day.
 */
export function hasContent(run: FieldRun, photos: readonly FieldPhoto[]): boolean {
  const isReading = ({ name, day }: FieldEntry) =>
    (run.dayKey === undefined || day === undefined) && (run.form[name] ?? '').trim() !== '';
  return run.startedAtMs !== undefined || photos.length > 0 || QUANTITY_FIELDS.some(isReading);
}

import { changedNames } from '@/app/(tester)/record/formValues';
import type { FieldLists } from '@/lib/registry/runs/fieldCard';
import type { HeldSheet } from '@/lib/registry/sessionSheets/heldSheet';
import type { RunForm } from '@/lib/run/runForm';
import { baseBesideDay, DAY_NAMES, dayFrom, dayOf, withDay } from '@/lib/run/sessionSheet';
import { carChosen, type FieldRun, localDay } from './fieldRun';
import { type HeldForm, type KeptForm, takenFromServer } from './keptForm';

/** What the runs of one day share, as a phone keeps it: the sheet of the day, said once. */
export interface FieldDay extends KeptForm {
  /** The day at the loop, yyyy-mm-dd. */
  localDate: string;
  server?: (HeldForm & { sheetId: string }) | undefined;
}

/** A new day by the phone's clock. What lasts beyond a day, car and loop among it, is taken over from the last one. */
export function newFieldDay(
  key: string,
  lists: FieldLists,
  { nowMs, last, subjects = {} }: { nowMs: number; last: RunForm; subjects?: RunForm },
): FieldDay {
  const utcOffsetMin = String(-new Date(nowMs).getTimezoneOffset());
  const form: RunForm = { ...dayFrom(last, false), utcOffsetMin };
  const carId = subjects.carId ?? form.carId ?? '';
  const ofCar = carId === '' ? form : carChosen({ form }, carId, lists).form;
  return {
    key,
    accountId: lists.accountId,
    createdAtMs: nowMs,
    localDate: localDay(nowMs),
    form: dayOf({ ...ofCar, ...subjects }),
  };
}

/** What the latest day said, on this phone or by the server's lists. */
export function lastDay(days: readonly FieldDay[], listed: FieldLists['days'] = []): RunForm {
  const all = [...days, ...listed.map(({ localDate, day }) => ({ localDate, form: day }))];
  return all.toSorted((a, b) => b.localDate.localeCompare(a.localDate))[0]?.form ?? {};
}

/** The next run of the day: all that the day says, and the setup. */
export function runOfDay(run: FieldRun, day: FieldDay, setupId: string, lists: FieldLists): FieldRun {
  const filled = { ...run, dayKey: day.key, form: { ...run.form, ...day.form } };
  const ofCar = carChosen(filled, day.form.carId ?? '', lists);
  return { ...ofCar, form: { ...ofCar.form, ...(setupId === '' ? {} : { setupId }) } };
}

/** What a phone kept of an earlier version does not say. */
export function isDraft({ status = 'draft' }: NonNullable<FieldRun['server']>): boolean {
  return status === 'draft';
}

/**
 * A run after its day was changed: what it had from the day follows. One that was sent in, or sent back for changes, is
 * its own.
 */
export function followed(run: FieldRun, before: RunForm, after: RunForm): FieldRun {
  if (run.server !== undefined && !isDraft(run.server)) return run;
  return { ...run, form: withDay(run.form, before, after) };
}

/** Whether the phone has changed nothing of a run since the server's copy but what its day brought. */
export function saysOnlyTheDay(run: FieldRun, day: FieldDay | undefined): boolean {
  if (day === undefined || run.server === undefined) return false;
  return changedNames(run.form, run.server.form).every(
    (name) => DAY_NAMES.includes(name) && (run.form[name] ?? '') === (day.form[name] ?? ''),
  );
}

/** A run as it is to be held against the server's copy, which follows the day by itself. */
export function besideDay(run: FieldRun, theirs: RunForm, day: RunForm): FieldRun {
  const { server, underway, form: mine } = run;
  const of = (base: RunForm) => baseBesideDay(base, { mine, theirs, day });
  if (server !== undefined) return { ...run, server: { ...server, form: of(server.form) } };
  return underway === undefined ? run : { ...run, underway: of(underway) };
}

/** Nothing but what the phone itself put in is no day worth a sheet. */
export function hasDayContent({ form }: FieldDay): boolean {
  return DAY_NAMES.some((name) => name !== 'utcOffsetMin' && !name.endsWith('Unit') && form[name]);
}

/** Days that the server listed, held against those that the phone keeps by the same keys; of new ones only today's. */
export function withListedDays(
  kept: readonly FieldDay[],
  lists: Pick<FieldLists, 'accountId' | 'days'>,
  nowMs: number,
): FieldDay[] {
  // Lists that were kept by an earlier version have none.
  return (lists.days ?? []).flatMap(({ creationKey, localDate, ...held }): FieldDay[] => {
    const known = kept.find(({ key }) => key === creationKey);
    const listed = serverDay(held);
    if (known === undefined) {
      if (localDate < localDay(nowMs)) return [];
      const { accountId } = lists;
      const { server } = listed;
      return [{ key: creationKey, accountId, createdAtMs: nowMs, localDate, form: server.form, server }];
    }
    const isNews = known.conflict === undefined && held.seen > (known.server?.version ?? 0);
    return isNews ? [takenFromServer(known, listed, DAY_NAMES)] : [];
  });
}

/** What the server says of a sheet, as the phone keeps it. */
export function serverDay({ sheetId, seen, day }: Pick<HeldSheet, 'sheetId' | 'seen' | 'day'>) {
  return { server: { sheetId, version: seen, form: day }, isEditable: true };
}

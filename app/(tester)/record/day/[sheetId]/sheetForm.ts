import type { DaySheetView } from '@/lib/registry/sessionSheets/daySheet';
import type { RunForm } from '@/lib/run/runForm';
import { DAY_NAMES, RUN_PART_NAMES, START_TIME, wholeForm, withDay } from '@/lib/run/sessionSheet';
import { idOfPath, startingValues } from '../../formValues';

/** On the page the day's fields stand beside those of a run, so that theirs have names of their own. */
const DAY_PREFIX = 'day.';

export function dayName(name: string): string {
  return `${DAY_PREFIX}${name}`;
}

/** The control's id of a field of the day. */
export function dayId(name: string): string {
  return `day-${name}`;
}

/** Every name under which the page sends something that is kept. */
export const SHEET_NAMES: readonly string[] = [...DAY_NAMES.map(dayName), ...RUN_PART_NAMES];

const RUN_PART = new Set(RUN_PART_NAMES);

/** What was posted, by whose it is. */
export function splitSheet(posted: RunForm): { day: RunForm; run: RunForm } {
  const day: RunForm = {};
  const run: RunForm = {};
  for (const [name, text] of Object.entries(posted)) {
    if (name.startsWith(DAY_PREFIX)) day[name.slice(DAY_PREFIX.length)] = text;
    else if (RUN_PART.has(name)) run[name] = text;
  }
  return { day, run };
}

/** What stands in the fields when the page is opened: what was typed, and a unit for every number. */
export function startingSheet(view: DaySheetView): RunForm {
  const units = { ...view.units, ...view.cars.find(({ id }) => id === view.day.carId)?.units };
  const day = startingValues(view.day, units);
  const of = (names: readonly string[], values: RunForm, nameOf: (name: string) => string = (name) => name) =>
    names.flatMap((name) => (values[name] ? [[nameOf(name), values[name]] as const] : []));
  const part = view.open?.part;
  // Without an open run its fields do not stand on the page: what is not there must not look cleared.
  const run =
    part === undefined ? {} : { ...startingValues(part, units), [START_TIME]: part[START_TIME] ?? '' };
  return Object.fromEntries([...of(DAY_NAMES, day, dayName), ...of(RUN_PART_NAMES, run)]);
}

/** The open run's whole form as it would be kept now; of a day without one, what the day says. */
export function formNow(view: DaySheetView, values: RunForm): RunForm {
  const { day, run } = splitSheet(values);
  if (view.open === undefined) return day;
  return wholeForm(withDay(view.open.form, view.day, day), run, day, view.localDate);
}

/** The control that an issue of the run's form belongs to: its own part where that asks for it, else the day's. */
export function sheetIdOfPath(path: string): string {
  const name = idOfPath(path);
  if (name === 'startedAtLocal') return START_TIME;
  return RUN_PART.has(name) || !DAY_NAMES.includes(name) ? name : dayId(name);
}

/** The control of a name of the sheet. */
export function sheetIdOf(name: string): string {
  return name.startsWith(DAY_PREFIX) ? dayId(name.slice(DAY_PREFIX.length)) : name;
}

/** The field of a run that a name of the sheet stands for. */
export function fieldOfSheet(name: string): string {
  if (name === START_TIME) return 'startedAtLocal';
  return name.startsWith(DAY_PREFIX) ? name.slice(DAY_PREFIX.length) : name;
}

/** What the day and the open run say, under the sheet's own names. */
export function joinSheet(day: RunForm, run: RunForm): RunForm {
  return { ...Object.fromEntries(Object.entries(day).map(([name, text]) => [dayName(name), text])), ...run };
}

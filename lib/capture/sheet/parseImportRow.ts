import { cruiseClassByKey, isWithinPostedLimit } from '@/lib/run/cruiseClass';
import type { InputIssue } from '@/lib/run/errors';
import { CHOICE_FIELDS } from '@/lib/run/fields/table';
import { parseRunForm, runFormSchema } from '@/lib/run/parseRunForm';
import type { RunForm } from '@/lib/run/runForm';
import type { RunRecord } from '@/lib/run/runRecord';
import type { ParsedRow, RowIssue } from './dryRun';
import {
  choiceValueOf,
  cruiseClassKeyOf,
  type ImportLoop,
  type ImportNames,
  named,
  offsetMinutesOf,
} from './importNames';

/** A row that can become a run: the form as it would be typed, and the record that it parses to. */
export interface ImportedRun {
  form: RunForm;
  record: RunRecord;
}

/** Makes the row parser of one tester's import: names become ids, words become choices, the rest is the run form's own. */
export function importRowParser(
  names: ImportNames,
  now: string,
): (cells: Record<string, string>) => ParsedRow<ImportedRun> {
  return (cells) => {
    const { form, issues, loop } = formOfCells(cells, names);
    const parsed = parseRunForm(form, { now });
    const all = [...issues, ...(parsed.ok ? [] : parsed.issues), ...aboveLimit(form, loop), ...tooLong(form)];
    if (!parsed.ok || all.length > 0) return { ok: false, issues: rowIssues(all, cells) };
    return { ok: true, value: { form, record: parsed.record } };
  };
}

function formOfCells(cells: Record<string, string>, names: ImportNames) {
  const { startDate, startTime, ...rest } = cells;
  const form: RunForm = { ...rest, isRetrospective: 'yes' };
  const issues: InputIssue[] = [];
  const car = named(cells.carId ?? '', names.cars, {
    path: 'carId',
    one: 'car',
    many: 'your cars',
    add: 'Correct the name, or add the car first.',
  });
  if (car.ok) form.carId = car.thing.id;
  else issues.push(car.issue);
  if (car.ok) {
    const setup = named(cells.setupId ?? '', car.thing.setups, {
      path: 'setupId',
      one: 'setup',
      many: 'the setups of this car',
      add: 'Correct the name, or add the setup first.',
    });
    if (setup.ok) form.setupId = setup.thing.id;
    else issues.push(setup.issue);
  }
  const loop = named(cells.loopId ?? '', names.loops, {
    path: 'loopId',
    one: 'loop',
    many: 'the loops',
    add: 'Correct the name, or add the loop first.',
  });
  if (loop.ok) form.loopId = loop.thing.id;
  else issues.push(loop.issue);
  form.cruiseClassKey = cruiseClassKeyOf(cells.cruiseClassKey ?? '');
  form.utcOffsetMin = offsetMinutesOf(cells.utcOffsetMin ?? '');
  for (const { name } of CHOICE_FIELDS) {
    if (cells[name] !== undefined) form[name] = choiceValueOf(name, cells[name]);
  }
  // What was said for all rows, or of another cell, gives way to a direction in the row.
  if ((form.windFrom ?? '') !== '' && form.windDirectionKnown === 'no') delete form.windDirectionKnown;
  if ((cells.startedAtLocal ?? '') === '' && startDate !== undefined) {
    form.startedAtLocal = `${startDate.slice(0, 10)} ${startTime ?? ''}`.trim();
  }
  return { form, issues, loop: loop.ok ? loop.thing : undefined };
}

function aboveLimit(form: RunForm, loop: ImportLoop | undefined): InputIssue[] {
  const cruiseClass = cruiseClassByKey(form.cruiseClassKey ?? '');
  if (loop === undefined || cruiseClass === undefined) return [];
  if (isWithinPostedLimit(cruiseClass, loop.postedLimitMps)) return [];
  return [
    {
      path: 'cruiseClassKey',
      what: `${cruiseClass.label} is above the posted limit of ${loop.name}.`,
      why: 'Posted limits and local law come first; such runs are not accepted.',
      fix: 'Choose a class at or below the limit.',
    },
  ];
}

function tooLong(form: RunForm): InputIssue[] {
  const checked = runFormSchema.safeParse(form);
  if (checked.success) return [];
  return checked.error.issues.map((issue) => ({
    path: String(issue.path[0] ?? ''),
    what: 'The text is too long.',
    why: 'A field holds a reading or a short note.',
    fix: 'Shorten it.',
  }));
}

/** One message a field, at the column that feeds it; a name that means nothing is not also told as missing. */
function rowIssues(issues: readonly InputIssue[], cells: Record<string, string>): RowIssue[] {
  const byPath = new Map<string, RowIssue>();
  for (const { path, what, fix } of issues) {
    const place = path === 'startedAtLocal' && !cells.startedAtLocal ? startPlace(cells) : path;
    if (!byPath.has(place)) byPath.set(place, { path: place, message: `${what} ${fix}` });
  }
  // Without a car its setups are not known: one fault, told once.
  if (byPath.has('carId')) byPath.delete('setupId');
  return [...byPath.values()];
}

function startPlace(cells: Record<string, string>): string {
  if (cells.startDate === undefined) return 'startedAtLocal';
  return /^\d{4}-\d{2}-\d{2}/.test(cells.startDate) ? 'startTime' : 'startDate';
}

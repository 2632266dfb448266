/** Which column of a sheet feeds which field, in which unit. */
import { unitSpelled, unitsLike } from '@/lib/units/spellings';
import { UNITS, type UnitCode } from '@/lib/units/unit';
import { timeIn } from './cells/date';
import { columnLetters, type SheetRow } from './table';

export interface FieldSpec {
  readonly name: string;
  readonly label: string;
  readonly isRequired: boolean;
  /** Units the field can come in, the usual one first; none for texts, dates and choices. */
  readonly units?: readonly UnitCode[];
  /** Other headings under which the field is known. */
  readonly aliases?: readonly string[];
  /** A heading that is a unit and nothing else, "Miles" or "mi/kWh", means this field. */
  readonly isMeantByUnit?: boolean;
  /** In canonical units: what lies outside is no value of the field. */
  readonly range?: readonly [number, number];
}

export interface ColumnChoice {
  readonly field: string;
  /** From 0. */
  readonly column: number;
  readonly unit?: UnitCode;
}

export interface MappingProblem {
  readonly field: string;
  readonly message: string;
}

/**
 * A first proposal from the headings: a column goes to the field whose name, label or alias its heading equals once
 * case, punctuation and a unit in brackets or at the end are set aside; "Distance (mi)" says the unit too, and "Miles"
 * alone says both. Under "Time", the cells tell a time of day from a duration.
 */
export function suggestColumns(
  header: SheetRow,
  fields: readonly FieldSpec[],
  rows: readonly SheetRow[] = [],
): ColumnChoice[] {
  const taken = new Set<number>();
  const choose = (field: FieldSpec, column: number, unit: UnitCode | undefined): ColumnChoice[] => {
    if (column < 0) return [];
    taken.add(column);
    return [unit === undefined ? { field: field.name, column } : { field: field.name, column, unit }];
  };
  const named = fields.flatMap((field) => {
    const names = new Set([field.name, field.label, ...(field.aliases ?? [])].map(plainName));
    const column = header.cells.findIndex(
      (cell, at) =>
        !taken.has(at) &&
        names.has(plainName(splitUnit(cell, field).name)) &&
        couldHold(field, cell, at, rows),
    );
    const unit = splitUnit(header.cells[column] ?? '', field).unit ?? field.units?.[0];
    return choose(field, column, unit);
  });
  const byUnit = fields.flatMap((field) => {
    if (!field.isMeantByUnit || named.some((choice) => choice.field === field.name)) return [];
    const column = header.cells.findIndex(
      (cell, at) => !taken.has(at) && unitNamed(cell, field) !== undefined,
    );
    return choose(field, column, unitNamed(header.cells[column] ?? '', field));
  });
  return [...named, ...byUnit];
}

/** The one heading that means two things: a start or how long it took, as most of its cells say. */
function couldHold(field: FieldSpec, heading: string, column: number, rows: readonly SheetRow[]): boolean {
  if (plainName(heading) !== 'time' || rows.length === 0) return true;
  const isStart = field.name === 'startTime';
  if (!isStart && field.units?.[0] !== 'min') return true;
  const cells = rows.map(({ cells }) => cells[column] ?? '').filter((cell) => cell !== '');
  // A drive of five hours is rarer than one that begins before five in the morning.
  const times = cells.filter((cell) => Number(timeIn(cell)?.slice(0, 2) ?? 0) >= 5);
  return isStart === times.length * 2 > cells.length;
}

/** What keeps a mapping from being used; empty when it can be. */
export function checkMapping(
  header: SheetRow,
  fields: readonly FieldSpec[],
  mapping: readonly ColumnChoice[],
  given: ReadonlySet<string> = new Set(),
): MappingProblem[] {
  const problems: MappingProblem[] = [];
  const columns = new Map<number, string>();
  const mapped = new Set<string>();
  for (const { field: name, column, unit } of mapping) {
    const field = fields.find((candidate) => candidate.name === name);
    const complain = (message: string) => problems.push({ field: name, message });
    if (field === undefined) {
      complain('There is no such field.');
      continue;
    }
    if (mapped.has(name)) complain(`${field.label} is taken from two columns.`);
    mapped.add(name);
    if (!Number.isInteger(column) || column < 0 || column >= header.cells.length) {
      complain(
        `There is no column ${column + 1}; the header ends at ${columnLetters(header.cells.length - 1)}.`,
      );
    }
    const other = columns.get(column);
    if (other !== undefined) complain(`Column ${columnLetters(column)} already goes to ${other}.`);
    columns.set(column, field.label);
    if (field.units !== undefined && unit === undefined) complain(`Say the unit of ${field.label}.`);
    if (unit !== undefined && !(field.units ?? []).includes(unit)) {
      complain(`${field.label} cannot be in ${UNITS[unit].symbol}.`);
    }
  }
  for (const field of fields) {
    if (field.isRequired && !mapped.has(field.name) && !given.has(field.name)) {
      problems.push({ field: field.name, message: `No column gives ${field.label}.` });
    }
  }
  return problems;
}

function splitUnit(heading: string, field: FieldSpec): { name: string; unit?: UnitCode } {
  const parts = inBrackets(heading) ?? lastWord(heading);
  if (parts === null) return { name: heading };
  const unit = unitNamed(parts.unit, field);
  return unit === undefined ? { name: heading } : { name: parts.name, unit };
}

// Step by step and not by one expression, whose tries would grow with the cube of a long heading.

/** "Energy (kWh)" or "Energy [kWh]". */
function inBrackets(heading: string): { name: string; unit: string } | null {
  const text = heading.trimEnd();
  if (!text.endsWith(')') && !text.endsWith(']')) return null;
  const open = Math.max(text.lastIndexOf('('), text.lastIndexOf('['));
  const unit = text.slice(open + 1, -1).trim();
  if (open < 0 || unit === '' || unit.includes(')') || unit.includes(']')) return null;
  return { name: text.slice(0, open).trimEnd(), unit };
}

/** "Energy kWh" or "Energy_kWh": what follows the last space, else the first underscore or comma. */
function lastWord(heading: string): { name: string; unit: string } | null {
  const isSeparator = (at: number) => /[\s_,]/.test(heading[at] ?? '');
  let from = heading.length - 1;
  while (from >= 0 && !/\s/.test(heading[from] ?? '')) from--;
  if (from < 0) from = heading.search(/[_,]/);
  if (from < 0) return null;
  let to = from + 1;
  while (to < heading.length - 1 && isSeparator(to)) to++;
  while (from > 0 && isSeparator(from - 1)) from--;
  return to < heading.length ? { name: heading.slice(0, from), unit: heading.slice(to) } : null;
}

/** A unit as people spell it, if it measures what the field does. */
function unitNamed(text: string, field: FieldSpec): UnitCode | undefined {
  const first = field.units?.[0];
  return first === undefined ? undefined : unitSpelled(text, unitsLike(first));
}

function plainName(name: string): string {
  return name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}

/** Which column of a sheet feeds which field, in which unit. */
import { dimensionOf, isUnitCode, UNITS, type UnitCode } from '@/lib/units/unit';
import { columnLetters, type SheetRow } from './table';

export interface FieldSpec {
  readonly name: string;
  readonly label: string;
  readonly isRequired: boolean;
  /** Units the field can come in, the usual one first; none for texts, dates and choices. */
  readonly units?: readonly UnitCode[];
  /** Other headings under which the field is known. */
  readonly aliases?: readonly string[];
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
 * case, punctuation and a unit in brackets or at the end are set aside; "Distance (mi)" says the unit too.
 */
export function suggestColumns(header: SheetRow, fields: readonly FieldSpec[]): ColumnChoice[] {
  const taken = new Set<number>();
  return fields.flatMap((field) => {
    const names = new Set([field.name, field.label, ...(field.aliases ?? [])].map(plainName));
    const column = header.cells.findIndex(
      (cell, at) => !taken.has(at) && names.has(plainName(splitUnit(cell, field).name)),
    );
    if (column < 0) return [];
    taken.add(column);
    const unit = splitUnit(header.cells[column] as string, field).unit ?? field.units?.[0];
    return [unit === undefined ? { field: field.name, column } : { field: field.name, column, unit }];
  });
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
  return unit === null ? { name: heading } : { name: parts.name, unit };
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

/** A unit by code or symbol, spaces and case aside, if it measures what the field does. */
function unitNamed(text: string, field: FieldSpec): UnitCode | null {
  const first = field.units?.[0];
  if (first === undefined) return null;
  const squeeze = (name: string) => name.toLowerCase().replace(/[\s\u00a0_]/g, '');
  const wanted = squeeze(text);
  const found = Object.values(UNITS).find(
    ({ code, symbol, dimension }) =>
      dimension === dimensionOf(first) && (squeeze(code) === wanted || squeeze(symbol) === wanted),
  );
  return found !== undefined && isUnitCode(found.code) ? found.code : null;
}

function plainName(name: string): string {
  return name.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
}

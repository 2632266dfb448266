/**
 * What importing a sheet would do, row by row, before anything is done: create, matched with a record already there,
 * or refused with the cell of each fault. Every filled row has exactly one outcome.
 */
import type { ZodType } from 'zod';
import { type ColumnChoice, checkMapping, type FieldSpec, type MappingProblem } from './columns';
import type { CellReader } from './readCells';
import { cellReference, type SheetRow, type SheetTable } from './table';

export interface RowIssue {
  /** Field at fault; '' when the row as a whole is. */
  readonly path: string;
  readonly message: string;
}

export type ParsedRow<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly issues: readonly RowIssue[] };

export interface CellProblem extends RowIssue {
  /** Such as C7; the row's first cell when no column feeds the field. */
  readonly cell: string;
}

export type RowOutcome<T> =
  | { readonly outcome: 'create'; readonly rowNumber: number; readonly value: T }
  | { readonly outcome: 'matched'; readonly rowNumber: number; readonly value: T; readonly matchId: string }
  | { readonly outcome: 'refused'; readonly rowNumber: number; readonly problems: readonly CellProblem[] };

export interface DryRunOptions<T> {
  readonly fields: readonly FieldSpec[];
  readonly mapping: readonly ColumnChoice[];
  /** Values that hold for every row, such as the loop; a filled cell takes precedence. */
  readonly given?: Readonly<Record<string, string>>;
  /** What a filled cell says; its text and the column's unit otherwise. */
  readonly readCell?: CellReader;
  /** Name under which a field's unit is handed on. */
  readonly unitFieldName?: (field: string) => string;
  readonly parse: (form: Record<string, string>) => ParsedRow<T>;
  /** Tells rows of one file apart; equal keys are the same record twice. */
  readonly keyOf?: (value: T) => string;
  /** The record already there that this row is, if any. */
  readonly findMatch?: (value: T) => string | null;
}

export interface DryRun<T> {
  readonly ok: true;
  readonly rows: readonly RowOutcome<T>[];
  readonly counts: { readonly create: number; readonly matched: number; readonly refused: number };
}

export interface UnusableMapping {
  readonly ok: false;
  readonly problems: readonly MappingProblem[];
}

export function dryRun<T>(table: SheetTable, options: DryRunOptions<T>): DryRun<T> | UnusableMapping {
  const given = new Set(
    Object.entries(options.given ?? {}).flatMap(([name, text]) => (text === '' ? [] : [name])),
  );
  const problems = checkMapping(table.header, options.fields, options.mapping, given);
  if (problems.length > 0) return { ok: false, problems };
  const firstRowOf = new Map<string, number>();
  const rows = table.rows.map((row): RowOutcome<T> => {
    const parsed = options.parse(formOf(row, options));
    const refuse = (issues: readonly RowIssue[]): RowOutcome<T> => ({
      outcome: 'refused',
      rowNumber: row.rowNumber,
      problems: issues.map((issue) => ({ ...issue, cell: cellOf(issue.path, row, options) })),
    });
    if (!parsed.ok) return refuse(parsed.issues);
    const key = options.keyOf?.(parsed.value);
    const earlier = key === undefined ? undefined : firstRowOf.get(key);
    if (earlier !== undefined) return refuse([{ path: '', message: `The same as row ${earlier}.` }]);
    if (key !== undefined) firstRowOf.set(key, row.rowNumber);
    const matchId = options.findMatch?.(parsed.value) ?? null;
    return matchId === null
      ? { outcome: 'create', rowNumber: row.rowNumber, value: parsed.value }
      : { outcome: 'matched', rowNumber: row.rowNumber, value: parsed.value, matchId };
  });
  const count = (outcome: RowOutcome<T>['outcome']) => rows.filter((row) => row.outcome === outcome).length;
  return {
    ok: true,
    rows,
    counts: { create: count('create'), matched: count('matched'), refused: count('refused') },
  };
}

/** Makes a row parser of a schema; each issue is laid at the field its path begins with. */
export function parseRowWith<T>(schema: ZodType<T>): (form: Record<string, string>) => ParsedRow<T> {
  return (form) => {
    const result = schema.safeParse(form);
    if (result.success) return { ok: true, value: result.data };
    const issues = result.error.issues.map(({ path, message }) => ({ path: String(path[0] ?? ''), message }));
    return { ok: false, issues };
  };
}

function formOf<T>(row: SheetRow, options: DryRunOptions<T>): Record<string, string> {
  // Without a prototype: a field can have any name a sheet gives it.
  const form: Record<string, string> = Object.assign(Object.create(null), options.given);
  const nameUnit = options.unitFieldName ?? ((field: string) => `${field}Unit`);
  for (const choice of options.mapping) {
    const { field, column, unit } = choice;
    const text = row.cells[column] ?? '';
    if (text === '') continue;
    if (options.readCell === undefined) {
      form[field] = unit === undefined ? text : withoutUnit(text, unit);
      if (unit !== undefined) form[nameUnit(field)] = unit;
      continue;
    }
    // What a column of its own says goes before what another's cell says beside its own.
    for (const [name, value] of Object.entries(options.readCell(choice, text)))
      if (name === field || name === nameUnit(field) || !(name in form)) form[name] = value;
  }
  return form;
}

/** "42 %" or "48.2 mi" in a column of that unit: the unit is known and would only stop the number from being read. */
function withoutUnit(text: string, unit: string): string {
  const end = text.toLowerCase().lastIndexOf(unit.toLowerCase());
  return end > 0 && end + unit.length === text.length ? text.slice(0, end).trim() : text;
}

function cellOf<T>(path: string, row: SheetRow, options: DryRunOptions<T>): string {
  const nameUnit = options.unitFieldName ?? ((field: string) => `${field}Unit`);
  const choice = options.mapping.find(({ field }) => field === path || nameUnit(field) === path);
  return cellReference(choice?.column ?? 0, row.rowNumber);
}

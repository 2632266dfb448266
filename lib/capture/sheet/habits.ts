/** How the writer of a sheet writes numbers and dates: asked once a file where the cells do not tell. */
import { toCanonical, type UnitCode } from '@/lib/units/unit';
import { datesLeftOut } from './carriedDates';
import { type DateOrder, isOrderOpen, orderTold } from './cells/date';
import { type DecimalMark, isUntold, markTold, numberInFront, plainDigits } from './cells/number';
import type { ColumnChoice, FieldSpec, MappingProblem } from './columns';
import { cellReference, type SheetTable } from './table';

/** What the tester said of the file, where anything was asked. */
export interface ToldHabits {
  readonly decimalMark?: DecimalMark | undefined;
  readonly dateOrder?: DateOrder | undefined;
  readonly blankDates?: 'carried' | 'missing' | undefined;
}

export interface SheetHabits {
  readonly decimalMark: DecimalMark;
  /** Undefined where no date needs it. */
  readonly dateOrder: DateOrder | undefined;
  /** What only the tester can say. */
  readonly problems: readonly MappingProblem[];
}

interface FilledCell {
  text: string;
  reference: string;
  unit: UnitCode | undefined;
  field: FieldSpec | undefined;
}

const DATE_FIELDS: ReadonlySet<string> = new Set(['startDate', 'startedAtLocal']);

/** Reads the habits off the cells that can be read one way only; the word of the tester goes before. */
export function habitsOf(
  table: SheetTable,
  columns: readonly ColumnChoice[],
  fields: readonly FieldSpec[],
  told: ToldHabits = {},
): SheetHabits {
  const cells = columns.flatMap(({ field: name, column, unit }) => {
    const field = fields.find((one) => one.name === name);
    return table.rows.flatMap((row): FilledCell[] => {
      const text = row.cells[column] ?? '';
      return text === '' ? [] : [{ text, unit, field, reference: cellReference(column, row.rowNumber) }];
    });
  });
  const mark = decimalMarkOf(cells, told.decimalMark);
  const order = dateOrderOf(cells, told.dateOrder);
  return {
    decimalMark: mark.known ?? 'point',
    dateOrder: order.known,
    problems: [...mark.problems, ...order.problems, ...blankDates(table, columns, told)],
  };
}

function blankDates(
  table: SheetTable,
  columns: readonly ColumnChoice[],
  { blankDates: said }: ToldHabits,
): MappingProblem[] {
  const left = said === undefined ? datesLeftOut(table, columns) : undefined;
  if (left === undefined) return [];
  const rows = left.rows === 1 ? 'One row has' : `${left.rows} rows have`;
  const message = `${rows} no date, the first under “${left.text.slice(0, 40)}” in ${left.cell}. Say whether the date above holds for them.`;
  return [{ field: 'blankDates', message }];
}

interface Habit<Value> {
  known: Value | undefined;
  problems: MappingProblem[];
}

function decimalMarkOf(cells: readonly FilledCell[], told: DecimalMark | undefined): Habit<DecimalMark> {
  if (told !== undefined) return { known: told, problems: [] };
  const numbers = cells.filter(({ field }) => field?.units !== undefined);
  const marks = new Set<DecimalMark>();
  let open: FilledCell | undefined;
  for (const cell of numbers) {
    const digits = numberInFront(cell.text)?.digits;
    if (digits === undefined) continue;
    const mark = isUntold(digits) ? markWithinRange(digits, cell) : markTold(digits);
    if (mark !== undefined) marks.add(mark);
    else if (isUntold(digits)) open ??= cell;
  }
  const [only] = marks;
  if (marks.size === 1 || open === undefined) return { known: only, problems: [] };
  const message = `“${open.text.slice(0, 40)}” in ${open.reference} can be read two ways. Say which mark stands before the decimals in this file.`;
  return { known: undefined, problems: [{ field: 'decimalMark', message }] };
}

/** "1,013" hPa is a thousand and thirteen: one and a bit is no pressure of the air. */
function markWithinRange(digits: string, { field, unit }: FilledCell): DecimalMark | undefined {
  const range = field?.range;
  if (range === undefined || unit === undefined) return undefined;
  const possible = (['point', 'comma'] as const).filter((mark) => {
    const value = toCanonical(Number(plainDigits(digits, mark).replace(',', '.')), unit);
    return value >= range[0] && value <= range[1];
  });
  return possible.length === 1 ? possible[0] : undefined;
}

function dateOrderOf(cells: readonly FilledCell[], told: DateOrder | undefined): Habit<DateOrder> {
  if (told !== undefined) return { known: told, problems: [] };
  const dates = cells.filter(({ field }) => DATE_FIELDS.has(field?.name ?? ''));
  const orders = new Set(dates.flatMap(({ text }) => orderTold(text) ?? []));
  const open = dates.find(({ text }) => isOrderOpen(text));
  const [only] = orders;
  if (orders.size === 1 || open === undefined) return { known: only, problems: [] };
  const message = `“${open.text.slice(0, 40)}” in ${open.reference} can be two days. Say whether day or month comes first in this file.`;
  return { known: undefined, problems: [{ field: 'dateOrder', message }] };
}

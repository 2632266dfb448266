import type { ColumnChoice } from './columns';
import { cellReference, type SheetRow, type SheetTable } from './table';

/** A date alone is given once for a day's rows; a date with its time belongs to one row. */
const CARRIED_FIELD = 'startDate';

function dateColumn(columns: readonly ColumnChoice[]): number | undefined {
  return columns.find(({ field }) => field === CARRIED_FIELD)?.column;
}

/** The first date that has rows without one under it, and how many rows of the sheet that is about. */
export function datesLeftOut(
  { rows }: SheetTable,
  columns: readonly ColumnChoice[],
): { cell: string; text: string; rows: number } | undefined {
  const column = dateColumn(columns);
  if (column === undefined) return undefined;
  let above: SheetRow | undefined;
  let first: SheetRow | undefined;
  let count = 0;
  for (const row of rows) {
    if ((row.cells[column] ?? '') !== '') above = row;
    else if (above !== undefined) {
      first ??= above;
      count += 1;
    }
  }
  return (
    first && { cell: cellReference(column, first.rowNumber), text: first.cells[column] ?? '', rows: count }
  );
}

/** Each row without a date under the one above it, as merged cells mean it. */
export function withCarriedDates(table: SheetTable, columns: readonly ColumnChoice[]): SheetTable {
  const column = dateColumn(columns);
  if (column === undefined) return table;
  let date = '';
  const rows = table.rows.map((row) => {
    const own = row.cells[column] ?? '';
    if (own !== '') {
      date = own;
      return row;
    }
    if (date === '') return row;
    const cells = Array.from({ length: Math.max(row.cells.length, column + 1) }, (_, at) =>
      at === column ? date : (row.cells[at] ?? ''),
    );
    return { ...row, cells };
  });
  return { ...table, rows };
}

import { type FieldSpec, suggestColumns } from './columns';
import { allRows, headedBy, MOST_ROWS_ABOVE, type SheetRow, type SheetTable } from './table';

/** The number of the row whose cells name most fields; the first filled row where none names two. */
export function headingRowOf(table: SheetTable, fields: readonly FieldSpec[]): number {
  let best = { row: allRows(table)[0] ?? table.header, named: 1 };
  for (const row of headingRows(table)) {
    const named = suggestColumns(row, fields).length;
    if (named > best.named) best = { row, named };
  }
  return best.row.rowNumber;
}

/** The rows that can be the headings, from the top. */
export function headingRows(table: SheetTable): SheetRow[] {
  return allRows(table).slice(0, MOST_ROWS_ABOVE);
}

/** The table under the headings that were chosen, else found. */
export function underHeadings(
  table: SheetTable,
  fields: readonly FieldSpec[],
  chosen: number | null | undefined,
): SheetTable {
  return headedBy(table, chosen ?? headingRowOf(table, fields));
}

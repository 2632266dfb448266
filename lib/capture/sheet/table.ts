/** A sheet as texts, with the place of each cell in the file it came from. */
export interface SheetRow {
  /** As the spreadsheet program numbers it, from 1; the header is a row too. */
  readonly rowNumber: number;
  /** One text a column, trimmed; '' where the cell is empty. */
  readonly cells: readonly string[];
}

export interface SheetTable {
  /** Name of the sheet; null for CSV. */
  readonly sheetName: string | null;
  readonly header: SheetRow;
  /** Rows with at least one filled cell, header excluded. */
  readonly rows: readonly SheetRow[];
  readonly blankRows: number;
  /** Filled rows above the headings. */
  readonly above: readonly SheetRow[];
}

export type TableResult =
  | { readonly ok: true; readonly table: SheetTable }
  | { readonly ok: false; readonly message: string; readonly rowNumber: number | null };

export interface TableLimits {
  readonly maxBytes: number;
  readonly maxRows: number;
  readonly maxColumns: number;
  readonly maxCellLength: number;
  /** Of everything inside a packed workbook together, once unpacked. */
  readonly maxUnpackedBytes: number;
}

export const tableLimits: TableLimits = {
  maxBytes: 10 * 1024 * 1024,
  maxRows: 5_000,
  maxColumns: 200,
  maxCellLength: 5_000,
  maxUnpackedBytes: 40 * 1024 * 1024,
};

export function refuseTable(message: string, rowNumber: number | null = null): TableResult {
  return { ok: false, message, rowNumber };
}

/** Letters of a column, counted from 0: A … Z, AA … (bijective base 26). */
export function columnLetters(column: number): string {
  let letters = '';
  for (let rest = column + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    letters = String.fromCharCode(65 + ((rest - 1) % 26)) + letters;
  }
  return letters;
}

/** The A1 reference of a cell: column from 0, row as numbered by the spreadsheet. */
export function cellReference(column: number, rowNumber: number): string {
  return `${columnLetters(column)}${rowNumber}`;
}

/** How far down a heading row is looked for: titles and notes above a table are a few lines. */
export const MOST_ROWS_ABOVE = 30;

/**
 * Splits numbered rows into the heading row and the filled rows under it. What stands above the headings, a title or a
 * date, is left out.
 * @param headingsIn the number of the heading row; the first filled row otherwise
 */
export function toTable(
  sheetName: string | null,
  numbered: readonly SheetRow[],
  headingsIn?: number,
): TableResult {
  const filled = numbered.filter((row) => row.cells.some((cell) => cell !== ''));
  if (filled.length === 0) return refuseTable('The file is empty.');
  const at = headingsIn === undefined ? 0 : filled.findIndex(({ rowNumber }) => rowNumber === headingsIn);
  const header = filled[at];
  if (header === undefined) return refuseTable(`There is nothing in row ${headingsIn}.`);
  const rows = filled.slice(at + 1);
  return {
    ok: true,
    table: {
      sheetName,
      header,
      rows,
      blankRows: numbered.length - filled.length,
      above: filled.slice(0, at),
    },
  };
}

/** Every filled row of a table as it was read, the first `MOST_ROWS_ABOVE` of which can be its headings. */
export function allRows({ above, header, rows }: SheetTable): SheetRow[] {
  return [...above, header, ...rows];
}

/** The same rows under other headings. */
export function headedBy(table: SheetTable, rowNumber: number): SheetTable {
  const again = toTable(table.sheetName, allRows(table), rowNumber);
  return again.ok ? { ...again.table, blankRows: table.blankRows } : table;
}

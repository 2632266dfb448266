import { InvalidInput } from '@/lib/run/errors';
import { parseCsvTable } from './csvTable';
import { isExampleRow } from './exampleRow';
import type { SheetTable } from './table';
import { parseXlsxTable } from './xlsxTable';

export interface ReadSheet {
  table: SheetTable;
  /** Of a workbook; none for CSV. */
  sheetNames: readonly string[];
}

/** A packed workbook begins as every ZIP archive does (APPNOTE 4.3.7); whatever else comes is read as text. */
export function isWorkbook(bytes: Uint8Array): boolean {
  return bytes[0] === 0x50 && bytes[1] === 0x4b && bytes[2] === 0x03 && bytes[3] === 0x04;
}

/** The table in a CSV or XLSX file, told apart by content. What cannot be read is refused with the reason. */
export async function readSheet(bytes: Uint8Array, sheetName?: string): Promise<ReadSheet> {
  const result = isWorkbook(bytes)
    ? await parseXlsxTable(bytes, sheetName)
    : { ...parseCsvTable(bytes), sheetNames: [] };
  if (!result.ok) throw refusal(result.message, result.rowNumber);
  const rows = result.table.rows.filter(({ cells }) => !isExampleRow(cells));
  if (rows.length === 0) throw refusal('The table has a header and no rows under it.', null);
  return { table: { ...result.table, rows }, sheetNames: result.sheetNames };
}

function refusal(message: string, rowNumber: number | null): InvalidInput {
  return new InvalidInput([
    {
      path: 'file',
      what: rowNumber === null ? message : `Row ${rowNumber}: ${message}`,
      why: 'A table is read with its headings in the first filled row and one run a row under it.',
      fix: 'Save it as CSV (UTF-8) or XLSX, or fill in the template.',
    },
  ]);
}

/**
 * Writes tables as CSV (RFC 4180) and XLSX that are safe to open: a text that a spreadsheet program would take for a
 * formula (it begins with = + - @ or a control character; OWASP, CSV Injection) is written so that it stays a text.
 * Numbers are written as numbers, so a negative one needs no such guard.
 */
import ExcelJS from 'exceljs';
import { UNITS } from '@/lib/units/unit';
import type { FieldSpec } from './columns';
import { exampleCells } from './exampleRow';

export type OutCell = string | number | boolean | null;

export function writeCsv(header: readonly string[], rows: readonly (readonly OutCell[])[]): string {
  return [header, ...rows].map((row) => `${row.map(csvCell).join(',')}\r\n`).join('');
}

/** A file that programs open with columns of sensible width and the header kept in sight. */
export async function writeXlsx(
  sheetName: string,
  header: readonly string[],
  rows: readonly (readonly OutCell[])[],
): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  const sheet = workbook.addWorksheet(safeSheetName(sheetName), { views: [{ state: 'frozen', ySplit: 1 }] });
  sheet.addRow([...header]).font = { bold: true };
  // In this format a text cell is typed as text and never calculated; no guard mark is needed or wanted.
  for (const row of rows)
    sheet.addRow(row.map((cell) => (typeof cell === 'number' && !Number.isFinite(cell) ? null : cell)));
  for (const [at, text] of header.entries())
    sheet.getColumn(at + 1).width = Math.max(10, Math.min(40, text.length + 2));
  return new Uint8Array(await workbook.xlsx.writeBuffer());
}

/** Headings that the importer recognises by itself, one column a field. */
export function templateHeader(fields: readonly FieldSpec[]): string[] {
  return fields.map(({ label, units }) =>
    units?.[0] === undefined ? label : `${label} (${UNITS[units[0]].symbol})`,
  );
}

/** A sheet to fill in, with an example that is left out, and beside it a sheet that says what each column is. */
export async function writeTemplate(fields: readonly FieldSpec[]): Promise<Uint8Array> {
  const workbook = new ExcelJS.Workbook();
  const sheet = workbook.addWorksheet('Runs', { views: [{ state: 'frozen', ySplit: 1 }] });
  const header = templateHeader(fields);
  sheet.addRow(header).font = { bold: true };
  sheet.addRow(exampleCells(fields)).font = { italic: true };
  for (const [at, text] of header.entries()) {
    const column = sheet.getColumn(at + 1);
    column.width = Math.max(10, Math.min(40, text.length + 2));
    // As text: otherwise the program drops the last zero of 2.30, and with it what the display resolved.
    column.numFmt = '@';
  }
  const notes = workbook.addWorksheet('Columns');
  notes.addRow(['Column', 'Needed', 'Units it can be in (put the one used in the heading)']).font = {
    bold: true,
  };
  for (const [at, field] of fields.entries()) {
    const units = field.units?.map((unit) => UNITS[unit].symbol).join(', ') ?? '';
    notes.addRow([header[at], field.isRequired ? 'yes' : 'no', units]);
  }
  notes.getColumn(1).width = 40;
  notes.getColumn(3).width = 60;
  return new Uint8Array(await workbook.xlsx.writeBuffer());
}

function csvCell(cell: OutCell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : '';
  if (typeof cell === 'boolean') return cell ? 'true' : 'false';
  const guarded = /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n;\t']/.test(guarded) ? `"${guarded.replace(/"/g, '""')}"` : guarded;
}

/** Sheet names hold at most 31 characters and none of \ / ? * [ ] : */
function safeSheetName(name: string): string {
  return (
    name
      .replace(/[\\/?*[\]:]/g, ' ')
      .slice(0, 31)
      .trim() || 'Sheet'
  );
}

/**
 * XLSX (ECMA-376, SpreadsheetML) to a table of texts, within limits. Texts keep what the sheet shows as far as it
 * matters to a reading: a number keeps the decimals of its format (2.3 shown as 2.30 says more than 2.3).
 */
import ExcelJS, { type Cell, type CellValue, type Worksheet } from 'exceljs';
import {
  refuseTable,
  type SheetRow,
  type TableLimits,
  type TableResult,
  tableLimits,
  toTable,
} from './table';
import { unpackWorkbook } from './unpack';

export type WorkbookResult = TableResult & { readonly sheetNames: readonly string[] };

/** Everything but the cells; ranges among these would be written out cell by cell, a billion of them if asked. */
const ignoreNodes = [
  'sheetPr',
  'dimension',
  'sheetViews',
  'cols',
  'autoFilter',
  'mergeCells',
  'rowBreaks',
  'hyperlinks',
  'dataValidations',
  'pageMargins',
  'pageSetup',
  'headerFooter',
  'printOptions',
  'picture',
  'drawing',
  'sheetProtection',
  'tableParts',
  'conditionalFormatting',
  'extLst',
];

/** @param sheetName the sheet to take; the first with any cells otherwise */
export async function parseXlsxTable(
  bytes: Uint8Array,
  sheetName?: string,
  limits: TableLimits = tableLimits,
): Promise<WorkbookResult> {
  const refuse = (message: string, sheetNames: readonly string[] = []): WorkbookResult => ({
    ...refuseTable(message),
    sheetNames,
  });
  if (bytes.length > limits.maxBytes) {
    return refuse(`The file is larger than ${Math.round(limits.maxBytes / 1048576)} MB.`);
  }
  const unpacked = unpackWorkbook(bytes, limits.maxUnpackedBytes);
  if (!unpacked.ok) return refuse(unpacked.message);

  const workbook = new ExcelJS.Workbook();
  try {
    const archive = unpacked.archive;
    const buffer = archive.buffer.slice(
      archive.byteOffset,
      archive.byteOffset + archive.byteLength,
    ) as ArrayBuffer;
    await workbook.xlsx.load(buffer, {
      ignoreNodes,
      maxRows: limits.maxRows + 1,
      maxCols: limits.maxColumns,
    } as Partial<ExcelJS.XlsxReadOptions>);
  } catch (error) {
    // Damage shows as any of the XML, ZIP or model errors of the library; only its own limits have a known form.
    const message = error instanceof Error ? error.message : '';
    if (/max row count/i.test(message))
      return refuse(`The sheet has more than ${limits.maxRows} rows under its header.`);
    if (/max column count/i.test(message)) return refuse(`A row has more than ${limits.maxColumns} columns.`);
    return refuse('The workbook is damaged or holds something that cannot be read.');
  }
  const sheetNames = workbook.worksheets.map((sheet) => sheet.name);
  const sheet =
    sheetName === undefined
      ? workbook.worksheets.find((candidate) => candidate.actualRowCount > 0)
      : workbook.worksheets.find((candidate) => candidate.name === sheetName);
  if (sheet === undefined) {
    return refuse(
      sheetName === undefined ? 'The workbook has no filled sheet.' : `There is no sheet “${sheetName}”.`,
      sheetNames,
    );
  }
  return { ...readSheet(sheet, limits), sheetNames };
}

function readSheet(sheet: Worksheet, limits: TableLimits): TableResult {
  const rows: SheetRow[] = [];
  let refusal: TableResult | null = null;
  sheet.eachRow({ includeEmpty: false }, (row, rowNumber) => {
    const cells: string[] = [];
    row.eachCell({ includeEmpty: false }, (cell, column) => {
      if (column > limits.maxColumns) {
        refusal ??= refuseTable(
          `A cell stands in column ${column}; at most ${limits.maxColumns} are read.`,
          rowNumber,
        );
        return;
      }
      const text = cellText(cell);
      if (text.length > limits.maxCellLength) {
        refusal ??= refuseTable(`A cell holds more than ${limits.maxCellLength} characters.`, rowNumber);
      }
      while (cells.length < column - 1) cells.push('');
      cells[column - 1] = text;
    });
    rows.push({ rowNumber, cells });
  });
  return refusal ?? toTable(sheet.name, rows);
}

function cellText(cell: Cell): string {
  return valueText(cell.value, cell.numFmt ?? '').trim();
}

function valueText(value: CellValue, format: string): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'string') return value;
  if (typeof value === 'number') return numberText(value, format);
  if (typeof value === 'boolean') return value ? 'true' : 'false';
  if (value instanceof Date) return dateText(value);
  if ('richText' in value) return value.richText.map(({ text }) => text).join('');
  // A formula counts as the result last saved with it; nothing is calculated here.
  if ('formula' in value || 'sharedFormula' in value) return valueText(value.result ?? null, format);
  if ('hyperlink' in value)
    return typeof value.text === 'string' ? value.text : valueText(value.text as CellValue, format);
  if ('error' in value) return value.error;
  return '';
}

function numberText(value: number, format: string): string {
  const section = format.split(';')[0] ?? '';
  const isPercent = /%/.test(section);
  // 15 digits are what the file format's own programs keep; beyond are artefacts of binary.
  const plain = Number((isPercent ? value * 100 : value).toPrecision(15));
  const own = Math.abs(plain) >= 1e-6 && Math.abs(plain) < 1e15 ? String(plain) : plain.toString();
  const shownDecimals = /0\.(0+)/.exec(section)?.[1]?.length ?? 0;
  const ownDecimals = own.includes('e') ? 0 : (own.split('.')[1]?.length ?? 0);
  const text = !own.includes('e') && ownDecimals < shownDecimals ? plain.toFixed(shownDecimals) : own;
  return isPercent ? `${text} %` : text;
}

/** The library gives dates as if in UTC; a sheet's dates have no zone, so none is written. */
function dateText(date: Date): string {
  if (Number.isNaN(date.getTime())) return '';
  const iso = new Date(Math.round(date.getTime() / 1000) * 1000).toISOString();
  const time = iso.slice(11, 19);
  // Day zero of the format: the cell holds a time of day only.
  if (date.getUTCFullYear() < 1900) return time;
  return time === '00:00:00' ? iso.slice(0, 10) : `${iso.slice(0, 10)} ${time}`;
}

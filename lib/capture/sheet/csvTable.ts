/** CSV (RFC 4180, with semicolon or tab as other separators in use) to a table of texts, within limits. */
import { CsvError, parse } from 'csv-parse/sync';
import { decodeText } from '../decodeText';
import {
  refuseTable,
  type SheetRow,
  type TableLimits,
  type TableResult,
  tableLimits,
  toTable,
} from './table';

const separators = [',', ';', '\t'] as const;

class TableTooLarge extends Error {
  constructor(
    message: string,
    readonly rowNumber: number,
  ) {
    super(message);
  }
}

export function parseCsvTable(input: Uint8Array | string, limits: TableLimits = tableLimits): TableResult {
  if (input.length > limits.maxBytes) {
    return refuseTable(`The file is larger than ${Math.round(limits.maxBytes / 1048576)} MB.`);
  }
  let text: string;
  if (typeof input === 'string') text = input.replace(/^\uFEFF/, '');
  else {
    const decoded = decodeText(input, 'windows-1252');
    if (!decoded.ok) return refuseTable(decoded.message);
    text = decoded.text;
  }
  // Neither CSV nor any text has this character; a binary file nearly always does.
  if (text.includes('\u0000')) return refuseTable('The file is not text.');

  const rows: SheetRow[] = [];
  try {
    parse(text, {
      delimiter: separatorOf(text),
      relax_column_count: true,
      skip_empty_lines: false,
      max_record_size: limits.maxColumns * limits.maxCellLength,
      on_record: (record: string[]) => {
        rows.push(checkedRow(record, rows.length + 1, limits));
        return null;
      },
    });
  } catch (error) {
    if (error instanceof TableTooLarge) return refuseTable(error.message, error.rowNumber);
    if (error instanceof CsvError) return refuseTable(wordsFor(error), rows.length + 1);
    throw error;
  }
  return toTable(null, rows);
}

/** The separator that parts the first filled line most often; a decimal comma there is no reason to prefer commas. */
export function separatorOf(text: string): ',' | ';' | '\t' {
  const start = text.search(/[^\s,;]/);
  const rest = start < 0 ? '' : text.slice(start, start + 100_000);
  const line = (/^[^\r\n]*/.exec(rest)?.[0] ?? '').replace(/"[^"]*"/g, '');
  let best: (typeof separators)[number] = ',';
  let most = 0;
  for (const separator of separators) {
    const count = line.split(separator).length - 1;
    if (count > most || (count === most && count > 0 && separator !== ',')) {
      best = separator;
      most = count;
    }
  }
  return best;
}

function checkedRow(record: readonly string[], rowNumber: number, limits: TableLimits): SheetRow {
  // The header is a row of its own.
  if (rowNumber > limits.maxRows + 1) {
    throw new TableTooLarge(`The file has more than ${limits.maxRows} rows under its header.`, rowNumber);
  }
  if (record.length > limits.maxColumns) {
    throw new TableTooLarge(
      `A row has ${record.length} columns; at most ${limits.maxColumns} are read.`,
      rowNumber,
    );
  }
  const cells = record.map((cell) => cell.trim());
  if (cells.some((cell) => cell.length > limits.maxCellLength)) {
    throw new TableTooLarge(`A cell holds more than ${limits.maxCellLength} characters.`, rowNumber);
  }
  return { rowNumber, cells };
}

function wordsFor(error: CsvError): string {
  switch (error.code) {
    case 'CSV_QUOTE_NOT_CLOSED':
      return 'A quotation mark is opened and never closed.';
    case 'CSV_MAX_RECORD_SIZE':
      return 'A row is far too long; a quotation mark may be missing.';
    case 'INVALID_OPENING_QUOTE':
    case 'CSV_INVALID_CLOSING_QUOTE':
      return 'A quotation mark stands inside a cell; write it twice and quote the whole cell.';
    default:
      return 'The file could not be read as CSV.';
  }
}

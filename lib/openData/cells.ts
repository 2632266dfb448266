import { canonicalText } from '@/lib/trail/entry';
import type { Column, Row, Table } from './column';

/** A cell or a row is not what its column says. */
export class BadCell extends Error {
  override readonly name = 'BadCell';
}

/** Whoever opens a CSV in a spreadsheet program must not run what somebody typed (OWASP, CSV Injection). */
const FORMULA = /^[=@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]|^[+-](?![\d.,])/;

/**
 * The one way in which a value stands in a cell: numbers as ECMAScript writes them (the shortest text that reads back as
 * the same double), JSON by RFC 8785, nothing for null. An infinite number is null.
 */
export function cellText(column: Column, value: unknown): string {
  if (isNothing(value)) {
    if (column.isRequired) throw new BadCell(`${column.name} is empty`);
    return '';
  }
  if (!isOfType(column, value)) throw new BadCell(`${column.name} is no ${column.type}`);
  if (typeof value === 'object') return canonicalText(value);
  return String(value);
}

/** What a cell says; throws `BadCell` where it is no value of the column, or not written in the one way. */
export function cellValue(column: Column, text: string): unknown {
  const value = read(column, text);
  if (cellText(column, value) !== text)
    throw new BadCell(`${column.name} is no ${column.type}: ${text.slice(0, 40)}`);
  return value;
}

function read({ type }: Column, text: string): unknown {
  if (text === '') return null;
  if (type === 'integer' || type === 'number') return Number(text);
  if (type === 'boolean') return text === 'true' ? true : text === 'false' ? false : undefined;
  if (type !== 'array' && type !== 'object') return text;
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Also undefined and what has no JSON: an infinite number, and one that is none. */
function isNothing(value: unknown): boolean {
  return value === null || value === undefined || (typeof value === 'number' && !Number.isFinite(value));
}

const DAY = /^\d{4}-\d\d-\d\d$/;
const TIME = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/;

function isOfType({ type }: Column, value: unknown): boolean {
  switch (type) {
    case 'integer':
      return Number.isSafeInteger(value);
    case 'number':
      return typeof value === 'number';
    case 'boolean':
      return typeof value === 'boolean';
    case 'array':
      return Array.isArray(value);
    case 'object':
      return typeof value === 'object' && !Array.isArray(value);
    case 'date':
      return typeof value === 'string' && DAY.test(value);
    case 'datetime':
      return typeof value === 'string' && TIME.test(value);
    case 'string':
      return typeof value === 'string' && value !== '' && !FORMULA.test(value);
  }
}

/** A line of CSV (RFC 4180), its end included. */
export function csvLine(texts: readonly string[]): string {
  const cells = texts.map((text) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text));
  return `${cells.join(',')}\r\n`;
}

export function csvHeader({ columns }: Table): string {
  return csvLine(columns.map(({ name }) => name));
}

export function csvRow(table: Table, row: Row): string {
  return csvLine(textsOf(table, row));
}

/** A line of JSON Lines, its end included: the columns in their order, null where there is nothing. */
export function jsonLine(table: Table, row: Row): string {
  const texts = textsOf(table, row);
  const members = table.columns.map((column, at) => {
    const value = row[column.name];
    const text = texts[at] as string;
    const json = text === '' ? 'null' : typeof value === 'string' ? JSON.stringify(value) : text;
    return `${JSON.stringify(column.name)}:${json}`;
  });
  return `{${members.join(',')}}\n`;
}

function textsOf(table: Table, row: Row): string[] {
  for (const name of Object.keys(row))
    if (!table.columns.some((column) => column.name === name))
      throw new BadCell(`${table.name} has no ${name}`);
  try {
    return table.columns.map((column) => cellText(column, row[column.name]));
  } catch (error) {
    const key = table.key.map((name) => String(row[name])).join(', ');
    throw new BadCell(`${table.name}, ${key}: ${error instanceof Error ? error.message : error}`);
  }
}

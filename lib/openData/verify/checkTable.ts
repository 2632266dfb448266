import { BadCell, cellValue, jsonLine } from '../cells';
import type { Reference, Row, Table } from '../column';
import { type Differences, keyText } from './difference';

/** Keys of rows that others refer to, by table and columns. */
export type KnownKeys = Map<string, Set<string>>;

/**
 * Holds a table against its schema: each cell of its type and written in the one way, both formats the same, rows in the
 * order of their key and none twice, and everything that is referred to there. Returns how many rows there are.
 */
export async function checkTable(
  table: Table,
  files: { csv: AsyncIterable<readonly string[]>; jsonLines: AsyncIterable<string> },
  { referred, known }: { referred: readonly Reference[]; known: KnownKeys },
  differences: Differences,
): Promise<number> {
  const lines = files.jsonLines[Symbol.asyncIterator]();
  const own = referred.map(({ to }) => ({ to, keys: newKeys(known, table.name, to) }));
  let before: Row | undefined;
  let rows = 0;
  for await (const row of typedRows(table, files.csv, differences)) {
    rows += 1;
    const line = await lines.next();
    const key = keyText(table, row);
    if (line.done || `${line.value}\n` !== jsonLine(table, row))
      differences.add(table.name, key, '', 'the line of JSON Lines is not the row of the CSV');
    if (before !== undefined && !isAfter(table, before, row))
      differences.add(
        table.name,
        key,
        table.key.join(', '),
        'the row is not in the order of the key, or there twice',
      );
    before = row;
    for (const { to, keys } of own) keys.add(joined(row, to));
    for (const reference of table.refersTo)
      if (!known.get(nameOf(reference.table, reference.to))?.has(joined(row, reference.columns)))
        differences.add(
          table.name,
          key,
          reference.columns.join(', '),
          `nothing of that key is in ${reference.table}`,
        );
  }
  if (!(await lines.next()).done)
    differences.add(table.name, '', '', 'there are more lines of JSON Lines than rows');
  return rows;
}

/** The rows of a CSV by their columns. What is no value of its column is told, and the row left out. */
export async function* typedRows(
  table: Table,
  records: AsyncIterable<readonly string[]>,
  differences: Differences,
): AsyncGenerator<Row> {
  let isHeader = true;
  for await (const record of records) {
    if (isHeader) {
      isHeader = false;
      if (record.join(',') === table.columns.map(({ name }) => name).join(',')) continue;
      differences.add(table.name, '', '', 'the header does not name the columns of the schema');
      return;
    }
    try {
      yield Object.fromEntries(
        table.columns.map((column, at) => [column.name, cellValue(column, record[at] ?? '')]),
      );
    } catch (error) {
      if (!(error instanceof BadCell)) throw error;
      differences.add(table.name, record.slice(0, table.key.length).join(', '), '', error.message);
    }
  }
  if (isHeader) differences.add(table.name, '', '', 'there is no header');
}

function newKeys(known: KnownKeys, table: string, columns: readonly string[]): Set<string> {
  const keys = new Set<string>();
  known.set(nameOf(table, columns), keys);
  return keys;
}

function nameOf(table: string, columns: readonly string[]): string {
  return `${table}(${columns.join(',')})`;
}

function joined(row: Row, columns: readonly string[]): string {
  return columns.map((name) => String(row[name])).join('\u0000');
}

function isAfter({ key }: Table, before: Row, row: Row): boolean {
  for (const name of key) {
    const [a, b] = [before[name] as string | number, row[name] as string | number];
    if (a !== b) return a < b;
  }
  return false;
}

import type { Row, Table } from '../column';

/** One thing in a snapshot that is not what it has to be. */
export interface Difference {
  /** A table, or a file of the package. */
  where: string;
  /** The key of the row; empty where the whole is meant. */
  row: string;
  column: string;
  says: string;
}

/** So many are told; the rest is counted. */
const MOST_TOLD = 200;

export class Differences {
  readonly told: Difference[] = [];
  count = 0;

  add(where: string, row: string, column: string, says: string): void {
    this.count += 1;
    if (this.told.length < MOST_TOLD) this.told.push({ where, row, column, says });
  }

  /** Each column of the expected row that is not the same in the found one. */
  compare(table: Table, found: Row, expected: Row, by: string): void {
    for (const { name } of table.columns) {
      if (!(name in expected)) continue;
      const what = differing(found[name] ?? null, plain(expected[name]));
      if (what !== undefined) this.add(table.name, keyText(table, found), name, `${what} ${by}`);
    }
  }
}

export function keyText({ key }: Pick<Table, 'key'>, row: Row): string {
  return key.map((name) => String(row[name])).join(', ');
}

/** Two computations of one number may differ by rounding; no more. */
const RELATIVE = 1e-9;
/** What is nothing but rounding: differences of terms that are many orders larger. */
const NOTHING = 1e-12;

export function isSameNumber(a: number, b: number): boolean {
  return Math.abs(a - b) <= Math.max(RELATIVE * Math.max(Math.abs(a), Math.abs(b)), NOTHING);
}

/** The first place at which a value differs from the one expected, in words; undefined where none does. */
function differing(found: unknown, expected: unknown, path = ''): string | undefined {
  if (typeof found === 'number' && typeof expected === 'number')
    return isSameNumber(found, expected) ? undefined : told(found, expected, path);
  if (!isCompound(found) || !isCompound(expected) || Array.isArray(found) !== Array.isArray(expected))
    return found === expected ? undefined : told(found, expected, path);
  const names = new Set([...Object.keys(found), ...Object.keys(expected)]);
  for (const name of names) {
    const what = differing(
      (found as Record<string, unknown>)[name] ?? null,
      (expected as Record<string, unknown>)[name] ?? null,
      path === '' ? name : `${path}.${name}`,
    );
    if (what !== undefined) return what;
  }
  return undefined;
}

function isCompound(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}

function told(found: unknown, expected: unknown, path: string): string {
  const at = path === '' ? '' : `${path}: `;
  return `${at}${shortly(found)} here, ${shortly(expected)}`;
}

function shortly(value: unknown): string {
  return value === null || value === undefined ? 'nothing' : JSON.stringify(value).slice(0, 60);
}

/** As it would stand in a cell: without what has no JSON. */
function plain(value: unknown): unknown {
  return value === undefined ? null : JSON.parse(JSON.stringify(value));
}

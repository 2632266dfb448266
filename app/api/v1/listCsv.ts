import { type OutCell, writeCsv } from '@/lib/capture/sheet/writeSheet';

/**
 * A list of an answer as CSV: a column for every value, named by its way into the row ("normalised.whPerKm"), in the
 * order in which they first stand. An interval becomes two columns, low and high; a list of words stands between
 * semicolons; lists of more than that are left to JSON.
 */
export function listCsv(rows: readonly Readonly<Record<string, unknown>>[]): string {
  const flat = rows.map((row) => new Map(valuesOf(row, '')));
  const columns = [...new Set(flat.flatMap((row) => [...row.keys()]))];
  return writeCsv(
    columns,
    flat.map((row) => columns.map((column) => row.get(column) ?? null)),
  );
}

function valuesOf(value: unknown, way: string): [string, OutCell][] {
  if (value === null || value === undefined) return way === '' ? [] : [[way, null]];
  if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean')
    return [[way, value]];
  if (Array.isArray(value)) {
    if (value.length === 2 && value.every((one) => typeof one === 'number'))
      return [
        [`${way}.low`, value[0] ?? null],
        [`${way}.high`, value[1] ?? null],
      ];
    return value.every((one) => typeof one === 'string') ? [[way, value.join('; ')]] : [];
  }
  return Object.entries(value).flatMap(([key, inner]) => valuesOf(inner, way === '' ? key : `${way}.${key}`));
}

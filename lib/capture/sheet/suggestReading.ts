import { type FieldSpec, suggestColumns } from './columns';
import type { SheetReading } from './importReport';
import type { SheetTable } from './table';

/** What a heading of a pressure says of its kind, as stations report it; first that fits. */
const PRESSURE_KINDS: readonly [heading: RegExp, kind: string][] = [
  [/altim|qnh/i, 'qnh'],
  [/qff|sea/i, 'qff'],
  [/station|qfe/i, 'station'],
];

/** How a sheet is read at first, from its headings and cells: all of it is shown, and changed where it is wrong. */
export function suggestReading(table: SheetTable, fields: readonly FieldSpec[]): SheetReading {
  const columns = suggestColumns(table.header, fields, table.rows);
  const given: Record<string, string> = {};
  const isFed = (name: string) => columns.some(({ field }) => field === name);
  if (!isFed('pressureKind')) {
    const pressure = columns.find(({ field }) => field === 'airPressure');
    const heading = table.header.cells[pressure?.column ?? -1] ?? '';
    const kind =
      pressure === undefined
        ? 'altitudeOnly'
        : PRESSURE_KINDS.find(([pattern]) => pattern.test(heading))?.[1];
    if (kind !== undefined) given.pressureKind = kind;
  }
  return { columns, given, words: [] };
}

/** A trace from a logger's CSV, by a mapping of its columns that the tester makes once. */
import { toCanonical, type UnitCode } from '@/lib/units/unit';
import { parseCsvTable } from '../sheet/csvTable';
import { parseInstant } from './instant';
import {
  finiteOrNull,
  PointCollector,
  refuseTrace,
  type TraceFile,
  type TraceLimits,
  type TraceRefusal,
  toNumber,
  traceLimits,
} from './tracePoint';

export type TimeForm = 'dateTime' | 'epochSeconds' | 'epochMilliseconds' | 'elapsedSeconds';

export interface NumberColumn {
  /** From 0. */
  readonly column: number;
  readonly unit: UnitCode;
}

export interface TraceColumns {
  readonly latitude: number;
  readonly longitude: number;
  readonly time?: { readonly column: number; readonly form: TimeForm };
  /** Instant of the first row's zero, needed for `elapsedSeconds` to become real times; otherwise 1970 is meant. */
  readonly elapsedFromMs?: number;
  readonly elevation?: NumberColumn;
  readonly speed?: NumberColumn;
  readonly power?: NumberColumn;
}

const maxColumns = 500;

export function parseCsvTrace(
  input: Uint8Array | string,
  columns: TraceColumns,
  limits: TraceLimits = traceLimits,
): TraceFile | TraceRefusal {
  const result = parseCsvTable(input, {
    maxBytes: limits.maxBytes,
    maxRows: limits.maxPoints,
    maxColumns,
    maxCellLength: 2000,
    maxUnpackedBytes: limits.maxBytes,
  });
  if (!result.ok) return refuseTrace(result.message, result.rowNumber);
  const { header, rows } = result.table;
  const wanted = [
    columns.latitude,
    columns.longitude,
    columns.time?.column,
    columns.elevation?.column,
    columns.speed?.column,
    columns.power?.column,
  ].filter((column) => column !== undefined);
  const beyond = wanted.find(
    (column) => !Number.isInteger(column) || column < 0 || column >= header.cells.length,
  );
  if (beyond !== undefined) {
    return refuseTrace(`The file has ${header.cells.length} columns; column ${beyond + 1} was asked for.`);
  }

  const collector = new PointCollector();
  const notes = new Set<string>();
  for (const { cells } of rows) {
    collector.add({
      latitudeDeg: decimal(cells[columns.latitude]),
      longitudeDeg: decimal(cells[columns.longitude]),
      elevationM: finiteOrNull(readCell(cells, columns.elevation)),
      timeMs: readTime(cells, columns, notes),
      speedMps: finiteOrNull(readCell(cells, columns.speed)),
      powerW: finiteOrNull(readCell(cells, columns.power)),
    });
  }
  if (collector.pointsRead === 0) return refuseTrace('The file has a header but no rows.');
  const { points, pointsRead, refusedPoints } = collector;
  return { ok: true, name: null, pointsRead, points, refusedPoints, notes: [...notes] };
}

function readCell(cells: readonly string[], column: NumberColumn | undefined): number {
  if (column === undefined) return Number.NaN;
  const value = decimal(cells[column.column]);
  return Number.isFinite(value) ? toCanonical(value, column.unit) : Number.NaN;
}

function readTime(cells: readonly string[], columns: TraceColumns, notes: Set<string>): number | null {
  if (columns.time === undefined) return null;
  const text = cells[columns.time.column] ?? '';
  if (columns.time.form === 'dateTime') {
    const instant = parseInstant(text);
    if (instant !== null && !instant.hasZone) notes.add('Times without a zone were taken as UTC.');
    if (instant === null) notes.add('Some times could not be read and count as missing.');
    return instant?.timeMs ?? null;
  }
  const value = decimal(text);
  if (columns.time.form === 'epochMilliseconds') return finiteOrNull(value);
  const originMs = columns.time.form === 'elapsedSeconds' ? (columns.elapsedFromMs ?? 0) : 0;
  return finiteOrNull(Math.round(value * 1000) + originMs);
}

/** A decimal comma is read as a mark only where no point stands too. */
function decimal(text: string | undefined): number {
  return toNumber(text?.includes('.') ? text : text?.replace(',', '.'));
}

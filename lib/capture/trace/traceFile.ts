/** A recording of any of the forms that are read, told apart by how it begins and not by its name. */
import { decodeText } from '../decodeText';
import { parseCsvTable } from '../sheet/csvTable';
import { tableLimits } from '../sheet/table';
import { parseCsvTrace, type TraceColumns } from './csvTrace';
import { parseGeoJson } from './geojson';
import { parseGpx } from './gpx';
import {
  refuseSize,
  refuseTrace,
  type TraceFile,
  type TraceLimits,
  type TraceRefusal,
  traceLimits,
} from './tracePoint';

export type TraceFormat = 'gpx' | 'csv' | 'geojson';

/** By the first character that is not blank; null for a file that is not text. */
export function traceFormatOf(bytes: Uint8Array): TraceFormat | null {
  const decoded = decodeText(bytes.subarray(0, 4096 - (4096 % 2)), 'windows-1252');
  const head = decoded.ok ? decoded.text.replace(/^\uFEFF/, '').trimStart() : '';
  if (head === '' || head.includes('\u0000')) return null;
  if (head.startsWith('<')) return 'gpx';
  return head.startsWith('{') ? 'geojson' : 'csv';
}

/** The heads of a CSV, read from its beginning; null when there is no line with a separator. */
export function csvHeaderOf(bytes: Uint8Array): readonly string[] | null {
  const end = bytes.subarray(0, 65_536).indexOf(10);
  const line = end < 0 ? bytes.subarray(0, 65_536) : bytes.subarray(0, end);
  const result = parseCsvTable(line, tableLimits);
  if (!result.ok || result.table.header.cells.length < 2) return null;
  return result.table.header.cells;
}

/** What makes two files of one logger alike: the same heads in the same order, whatever their case. */
export function headerKeyOf(header: readonly string[]): string {
  return header.map((head) => head.trim().toLowerCase()).join('\u001f');
}

/** @param columns needed for CSV alone */
export function readTraceFile(
  bytes: Uint8Array,
  format: TraceFormat,
  columns: TraceColumns | null,
  limits: TraceLimits = traceLimits,
): TraceFile | TraceRefusal {
  if (bytes.length > limits.maxBytes) return refuseSize(limits, 'bytes');
  if (format === 'gpx') return parseGpx(bytes, limits);
  if (format === 'geojson') return parseGeoJson(bytes, limits);
  if (columns === null) return refuseTrace('Which column means what is not known.');
  if (rowsIn(bytes) > limits.maxPoints + 1) return refuseSize(limits, 'points');
  return parseCsvTrace(bytes, columns, limits);
}

/** Lines that end in a line feed. */
function rowsIn(bytes: Uint8Array): number {
  let rows = 0;
  for (const byte of bytes) if (byte === 10) rows++;
  return rows;
}

import { createHash } from 'node:crypto';
import { guessColumns, type NamedColumns, resolveColumns } from '@/lib/capture/trace/csvColumns';
import type { TraceColumns } from '@/lib/capture/trace/csvTrace';
import type { IrreducibleTrace } from '@/lib/capture/trace/reduction';
import {
  csvHeaderOf,
  headerKeyOf,
  readTraceFile,
  type TraceFormat,
  traceFormatOf,
} from '@/lib/capture/trace/traceFile';
import { type TraceFile, type TraceRefusal, traceLimits } from '@/lib/capture/trace/tracePoint';
import { InvalidInput, TooLarge } from '@/lib/run/errors';
import { rememberColumns, rememberedColumns } from '@/lib/store/traces';
import type { Registry } from '../registry';

export interface ReadUpload {
  file: TraceFile;
  format: TraceFormat;
  columns: TraceColumns | null;
}

/**
 * Reads a recording. What the columns of a CSV mean is as typed, else as the tester had it for a file with the same
 * heads, else as the heads usually say; a typed mapping that could be read is remembered.
 */
export async function readUpload(
  registry: Registry,
  accountId: string,
  upload: { bytes: Uint8Array; named?: Partial<NamedColumns> | undefined; columns?: TraceColumns | null },
): Promise<ReadUpload> {
  const { bytes, named, columns: known } = upload;
  if (bytes.length > traceLimits.maxBytes)
    throw new TooLarge(
      `The recording is larger than ${traceLimits.maxBytes / 1048576} MB. Send a part of it.`,
    );
  const format = traceFormatOf(bytes);
  if (format === null) throw unreadable('The file is empty, or it is not text.');
  const mapping = format === 'csv' ? await mappingOf(registry, accountId, bytes, named, known ?? null) : null;
  const file = readTraceFile(bytes, format, mapping?.columns ?? null);
  if (!file.ok) throw refusalOf(file);
  if (mapping?.isTyped) {
    const entry = { accountId, headerKey: mapping.headerKey, mapping: mapping.columns };
    await rememberColumns(registry.db, { ...entry, usedAt: registry.now() });
  }
  return { file, format, columns: mapping?.columns ?? null };
}

async function mappingOf(
  registry: Registry,
  accountId: string,
  bytes: Uint8Array,
  named: Partial<NamedColumns> | undefined,
  known: TraceColumns | null,
): Promise<{ columns: TraceColumns; headerKey: string; isTyped: boolean }> {
  const header = csvHeaderOf(bytes);
  if (header === null)
    throw unreadable('The file is neither GPX nor GeoJSON, and its first line holds no heads.');
  const headerKey = createHash('sha256').update(headerKeyOf(header)).digest('hex');
  if (known !== null) return { columns: known, headerKey, isTyped: false };
  if (named !== undefined && [named.latitude, named.longitude, named.time].some((text) => text?.trim())) {
    const resolved = resolveColumns(header, named);
    if (!resolved.ok) throw new InvalidInput(resolved.issues);
    return { columns: resolved.columns, headerKey, isTyped: true };
  }
  const remembered = await rememberedColumns(registry.db, accountId, headerKey);
  const columns = remembered ?? guessColumns(header);
  if (columns !== undefined) return { columns, headerKey, isTyped: false };
  throw new InvalidInput([
    {
      path: 'columns.latitude',
      what: 'It is not clear which columns hold latitude, longitude and time.',
      why: `The columns of this file are ${header.slice(0, 30).join(', ').slice(0, 400)}.`,
      fix: 'Name them under “Columns of a CSV”. They are remembered for files with the same heads.',
    },
  ]);
}

const PLACE_FIX = 'Export it again as GPX 1.1, CSV or GeoJSON with a time at every point.';

function unreadable(what: string): InvalidInput {
  return new InvalidInput([
    { path: 'trace', what, why: 'Recordings are read as GPX 1.1, CSV or GeoJSON.', fix: PLACE_FIX },
  ]);
}

/** A recording that was kept in a way that this program cannot read any more. */
export function noLongerReadable(): InvalidInput {
  return new InvalidInput([
    {
      path: 'trace',
      what: 'What was kept of this recording can no longer be read.',
      why: 'It was stored in another way than recordings are today.',
      fix: 'Send the file again, or take the recording off.',
    },
  ]);
}

function refusalOf({ message, line, isTooLarge }: TraceRefusal): Error {
  if (isTooLarge) return new TooLarge(`${message} Send the part with the run.`);
  return unreadable(line === null ? message : `${message} (line ${line})`);
}

const WHY_IRREDUCIBLE = {
  noTimes: ['Speed comes from places and times.', PLACE_FIX],
  tooFewPoints: [
    'So few points say nothing about a run.',
    'Record a point every second, or every few seconds.',
  ],
  tooShort: ['Ramps would dominate so short a way.', 'Choose the recording of the whole loop.'],
  tooLong: ['A run is driven on one day.', 'Choose the part of the recording with the run.'],
} as const;

/** A recording that was read but holds no run. */
export function irreducible({ reason, message, counts }: IrreducibleTrace): InvalidInput {
  const [why, fix] = WHY_IRREDUCIBLE[reason];
  const left = counts.excluded > 0 ? ` ${counts.excluded} of ${counts.given} points could not be used.` : '';
  return new InvalidInput([{ path: 'trace', what: message, why: `${why}${left}`, fix }]);
}

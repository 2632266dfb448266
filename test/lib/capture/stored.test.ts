import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ImportReport } from '@/lib/capture/sheet/importReport';
import {
  readImportReport,
  readImportState,
  readPublicTrack,
  readSheetReading,
  readTrace,
  readTraceColumns,
} from '@/lib/capture/stored';
import { reduceUpload } from '@/lib/capture/trace/reduceUpload';
import { readTraceFile } from '@/lib/capture/trace/traceFile';
import { coastDrive, drive, toGpx } from './trace/syntheticDrive';

const throughJson = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

function kept(cruiseClassKey?: string) {
  const file = readTraceFile(new TextEncoder().encode(toGpx(drive(coastDrive).points)), 'gpx', null);
  if (!file.ok) throw new Error(file.message);
  const reduced = reduceUpload(file, {
    columns: null,
    window: undefined,
    startedAtMs: undefined,
    trimM: 500,
    cruiseClassKey,
    knownLoop: undefined,
  });
  if (!reduced.ok) throw new Error(reduced.refusal.message);
  return reduced;
}

describe('a stored recording', () => {
  const { stored, publicTrack } = kept();

  it('is read as it was written', () => {
    expect(readTrace(throughJson(stored))).toEqual(throughJson(stored));
    expect(readPublicTrack(throughJson(publicTrack))).toEqual(throughJson(publicTrack));
  });

  it('of an older kind has what was not said then', () => {
    const {
      columns: _,
      loopMatch: __,
      windows: ___,
      fileNotes: ____,
      refusedPoints: _____,
      ...older
    } = stored;
    const { energyWh: ______, notes: _______, ...reduction } = stored.reduction;
    const read = readTrace(throughJson({ ...older, reduction: { ...reduction, colour: 'grey' } }));
    expect(read).toMatchObject({
      columns: null,
      loopMatch: null,
      windows: [],
      fileNotes: [],
      refusedPoints: [],
    });
    expect(read?.reduction).toEqual(throughJson({ ...reduction, energyWh: null, notes: [] }));
  });

  it('without its length is not read', () => {
    const { distanceM: _, ...reduction } = stored.reduction;
    expect(readTrace(throughJson({ ...stored, reduction }))).toBeUndefined();
    expect(readPublicTrack({ trimM: 500 })).toBeUndefined();
  });

  it('never makes its reader throw, whichever part is something else', () => {
    const parts = fc.constantFrom(...Object.keys(stored));
    const inner = fc.constantFrom(...Object.keys(stored.reduction));
    fc.assert(
      fc.property(fc.jsonValue(), parts, inner, (value, part, key) => {
        readTrace(value);
        readPublicTrack(value);
        const read = readTrace({
          ...stored,
          reduction: { ...stored.reduction, [key]: value },
          [part]: value,
        });
        expect(read === undefined || Number.isFinite(read.reduction.distanceM)).toBe(true);
      }),
    );
  });
});

describe('remembered columns', () => {
  it('are read as they were resolved, and not where a unit is none', () => {
    const columns = {
      latitude: 1,
      longitude: 2,
      time: { column: 0, form: 'epochSeconds' },
      speed: { column: 3, unit: 'km/h' },
    };
    expect(readTraceColumns(throughJson(columns))).toEqual(columns);
    expect(readTraceColumns({ ...columns, speed: { column: 3, unit: 'parsec' } })).toBeUndefined();
    expect(readTraceColumns({ latitude: 1 })).toBeUndefined();
  });
});

describe('a stored import', () => {
  const report: ImportReport = {
    state: 'done',
    sha256: 'a'.repeat(64),
    sheetName: null,
    sheetNames: [],
    headingRow: null,
    reading: {
      columns: [{ field: 'tripDistance', column: 2, unit: 'km' }],
      words: [],
      given: { carId: 'Grey' },
    },
    mappingProblems: [],
    rows: [
      { outcome: 'matched', row: 2, what: 'Grey', runNumber: 7 },
      { outcome: 'refused', row: 3, problems: [{ cell: 'C3', path: 'tripDistance', message: 'No number.' }] },
    ],
    rowsDone: 2,
    isStopped: false,
    kept: [],
    withdrawn: 0,
    failing: 'send',
  };

  it('is read as it was written, and of an older kind with what was not counted then', () => {
    expect(readImportReport(throughJson(report))).toEqual(report);
    const { kept: _, withdrawn: __, isStopped: ___, failing: ____, ...older } = report;
    expect(readImportReport(throughJson(older))).toEqual(report);
    expect(readSheetReading(throughJson(report.reading))).toEqual(report.reading);
    expect(readImportState('undoing')).toBe('undoing');
  });

  it('in a state that nobody knows is not read', () => {
    expect(readImportReport({ ...report, state: 'paused' })).toBeUndefined();
    expect(readImportState('paused')).toBeUndefined();
  });

  it('never makes its readers throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(report)), (value, key) => {
        for (const read of [readImportReport, readSheetReading, readTraceColumns, readImportState])
          read(value);
        const read = readImportReport({ ...report, [key]: value });
        expect(read === undefined || Array.isArray(read.rows)).toBe(true);
      }),
    );
  });
});

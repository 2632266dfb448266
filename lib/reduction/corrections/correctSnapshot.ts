import { coastDownOf } from '@/lib/physics/coastDown';
import type { RunRecord } from '@/lib/run/runRecord';
import { lengthScale } from '../lengthScale';
import type {
  CalibrationSnapshot,
  CarSnapshot,
  LoopSnapshot,
  ModelSnapshot,
  ReductionSnapshot,
} from '../snapshot';
import { readSnapshot } from '../stored';
import { weatherOfRecord } from '../weatherOfRecord';
import type { CalibrationChange, Change, ChangedColumns, KeptCalibration, LoopDirections } from './change';

const CAR_COLUMNS = [
  'registeredMassKg',
  'usableCapacityWh',
  'dragAreaM2',
  'rollingCoefficient',
  'ownValuesSource',
  'placardFrontPa',
  'placardRearPa',
] as const satisfies readonly (keyof CarSnapshot)[];

const MODEL_COLUMNS = [
  'bodyClass',
  'kerbMassKg',
  'usableCapacityWh',
  'dragAreaM2',
  'dragAreaSource',
  'hasHeatPump',
] as const satisfies readonly (keyof ModelSnapshot)[];

const LOOP_COLUMNS = [
  'lengthM',
  'lengthUncertaintyM',
  'altitudeM',
  'netClimbM',
  'closureDistanceM',
  'closureHeightM',
  'sharedRouteShare',
  'offCruiseShare',
  'postedLimitMps',
] as const satisfies readonly (keyof LoopSnapshot)[];

const COAST_DOWN = ['coastDownF0N', 'coastDownF1NPerKmh', 'coastDownF2NPerKmh2'] as const;

/**
 * What a run's numbers are made from, with a correction in it. A value is replaced only where the snapshot holds what the
 * correction found wrong: what was otherwise when the run was driven stays. The very snapshot where nothing is.
 */
export function correctSnapshot(
  snapshot: ReductionSnapshot,
  change: Exclude<Change, { kind: 'run' }>,
): ReductionSnapshot {
  switch (change.kind) {
    case 'car':
      return ifOther(snapshot, { car: correctCar(snapshot.car, change.columns) });
    case 'model':
      return ifOther(snapshot, { model: withColumns(snapshot.model, change.columns, MODEL_COLUMNS) });
    case 'loop':
      return ifOther(snapshot, correctLoop(snapshot, change.columns, change.directions));
    case 'calibrations':
      return ifOther(snapshot, {
        calibrations: correctCalibrations(snapshot.calibrations, change.changes),
      });
  }
}

/** The same with other readings: the record and the weather that it states. */
export function correctRecord(snapshot: ReductionSnapshot, record: RunRecord): ReductionSnapshot {
  const read = readSnapshot({ ...snapshot, record, weather: weatherOfRecord(record) });
  if (!read.ok) throw new Error(`the corrected record is none: ${read.message}`);
  return read.snapshot;
}

function ifOther(snapshot: ReductionSnapshot, parts: Partial<ReductionSnapshot>): ReductionSnapshot {
  const corrected = { ...snapshot, ...parts };
  return sameJson(corrected, snapshot) ? snapshot : corrected;
}

function withColumns<Part extends object, Name extends keyof Part & string>(
  part: Part,
  columns: ChangedColumns,
  names: readonly Name[],
): Part {
  const found = names.flatMap((name) => {
    const column = columns[name];
    return column !== undefined && part[name] === column.before ? [[name, column.after]] : [];
  });
  return { ...part, ...Object.fromEntries(found) };
}

function correctCar(car: CarSnapshot, columns: ChangedColumns): CarSnapshot {
  const corrected = withColumns(car, columns, CAR_COLUMNS);
  const coastDown = (side: 'before' | 'after') => {
    const [coastDownF0N, coastDownF1NPerKmh, coastDownF2NPerKmh2] = COAST_DOWN.map((name) => {
      const value = columns[name]?.[side];
      return typeof value === 'number' ? value : null;
    });
    return coastDownOf({
      coastDownF0N: coastDownF0N ?? null,
      coastDownF1NPerKmh: coastDownF1NPerKmh ?? null,
      coastDownF2NPerKmh2: coastDownF2NPerKmh2 ?? null,
    });
  };
  // One fit: a correction that names one of the three names them all.
  const isNamed = COAST_DOWN.some((name) => columns[name] !== undefined);
  return isNamed && sameJson(car.coastDown, coastDown('before'))
    ? { ...corrected, coastDown: coastDown('after') }
    : corrected;
}

function correctLoop(
  { loop, recording }: ReductionSnapshot,
  columns: ChangedColumns,
  directions: { before: LoopDirections; after: LoopDirections } | null,
): Pick<ReductionSnapshot, 'loop' | 'recording'> {
  const known = { bearings: loop.bearings, legs: inOrder(loop.legs) };
  const isTurned =
    directions !== null &&
    sameJson(known, { bearings: directions.before.bearings, legs: inOrder(directions.before.legs) });
  const corrected = {
    ...withColumns(loop, columns, LOOP_COLUMNS),
    ...(isTurned ? { bearings: directions.after.bearings, legs: inOrder(directions.after.legs) } : {}),
  };
  const { lengthM, lengthUncertaintyM } = corrected;
  const isSameLength = lengthM === loop.lengthM && lengthUncertaintyM === loop.lengthUncertaintyM;
  // One that was kept as recorded stays so: nothing was worked out of it.
  const isScaled = recording !== null && recording.lengthScale !== null && !isSameLength;
  return {
    loop: corrected,
    recording: isScaled ? { ...recording, lengthScale: lengthScale(recording, corrected) } : recording,
  };
}

function inOrder(legs: LoopDirections['legs']) {
  return legs.toSorted((a, b) => a.direction.localeCompare(b.direction));
}

function correctCalibrations(
  known: readonly CalibrationSnapshot[],
  changes: readonly CalibrationChange[],
): CalibrationSnapshot[] {
  let corrected = [...known];
  for (const { before, after } of changes) {
    const at = before === null ? -1 : corrected.findIndex((each) => sameJson(bare(each), bare(before)));
    // The run knew nothing of the one that is changed, and so does not of the change.
    if (before !== null && at < 0) continue;
    const put = after === null ? [] : [bare(after)];
    if (before !== null) corrected = corrected.toSpliced(at, 1, ...put);
    else if (!corrected.some((each) => sameJson(bare(each), put[0]))) corrected = [...corrected, ...put];
  }
  return corrected;
}

function bare(calibration: CalibrationSnapshot | KeptCalibration): CalibrationSnapshot {
  const { instrument, factor, standardUncertainty, measuredOn, odometerM, invalidatedOn } = calibration;
  return { instrument, factor, standardUncertainty, measuredOn, odometerM, invalidatedOn };
}

/** Of one maker, so that names stand in one order. */
function sameJson(a: unknown, b: unknown): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

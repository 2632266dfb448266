import { METHOD_VERSION } from '@/lib/physics/normalise';
import type { Method } from '@/lib/reduction/reduceRun';
import type { CalibrationSnapshot, ReductionSnapshot } from '@/lib/reduction/snapshot';
import { weatherOfRecord } from '@/lib/reduction/weatherOfRecord';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { RunForm } from '@/lib/run/runForm';
import type { RunRecord } from '@/lib/run/runRecord';
import { completeForm } from '@/test/helpers/runForms';

export const NOW = '2026-11-01T12:00:00.000Z';

export const ENGINE: Method = { label: METHOD_VERSION, roadLoads: new Map() };

/** The record of a form as a careful tester fills it in, on 14 May 2026. */
export function recordOf(changes: RunForm = {}): RunRecord {
  const parsed = parseRunForm(completeForm(changes), { now: NOW });
  if (!parsed.ok) throw new Error(parsed.issues.map((issue) => issue.what).join(' '));
  return parsed.record;
}

export function calibrationOf(changes: Partial<CalibrationSnapshot> = {}): CalibrationSnapshot {
  return {
    instrument: 'speedometer',
    factor: 0.98,
    standardUncertainty: 0.002,
    measuredOn: '2026-03-01',
    odometerM: null,
    invalidatedOn: null,
    ...changes,
  };
}

export interface SnapshotChanges {
  form?: RunForm;
  car?: Partial<ReductionSnapshot['car']>;
  model?: Partial<ReductionSnapshot['model']>;
  loop?: Partial<ReductionSnapshot['loop']>;
  setup?: Partial<ReductionSnapshot['setup']>;
  calibrations?: readonly CalibrationSnapshot[];
  recording?: ReductionSnapshot['recording'];
}

/** A pick-up on a loop of 107.5 km. */
export function snapshotOf(changes: SnapshotChanges = {}): ReductionSnapshot {
  const { notes: _, stationReport: __, ...record } = recordOf(changes.form);
  const cruiseClass = cruiseClassByKey(record.cruiseClassKey);
  if (cruiseClass === undefined) throw new Error('the class is gone');
  return {
    version: 2,
    record,
    cruiseClass,
    car: {
      id: 'car',
      registeredMassKg: null,
      usableCapacityWh: null,
      dragAreaM2: null,
      rollingCoefficient: null,
      coastDown: null,
      ownValuesSource: null,
      placardFrontPa: 290_000,
      placardRearPa: 290_000,
      ...changes.car,
    },
    model: {
      id: 'model',
      bodyClass: 'pickup',
      kerbMassKg: 2900,
      usableCapacityWh: 120_000,
      dragAreaM2: null,
      dragAreaSource: null,
      hasHeatPump: false,
      deliveredTyreKind: null,
      ...changes.model,
    },
    setup: { id: 'setup', levels: [], ...changes.setup },
    loop: {
      driving: null,
      id: 'loop',
      name: 'North causeway',
      lengthM: 107_500,
      lengthUncertaintyM: 100,
      altitudeM: 20,
      netClimbM: 0,
      closureDistanceM: 20,
      closureHeightM: 0,
      sharedRouteShare: 0.98,
      offCruiseShare: 0.05,
      postedLimitMps: 120 / 3.6,
      bearings: [
        { bearingDeg: 20, share: 0.5 },
        { bearingDeg: 200, share: 0.5 },
      ],
      legs: [],
      ...changes.loop,
    },
    calibrations: changes.calibrations ?? [],
    weather: weatherOfRecord(recordOf(changes.form)),
    recording: changes.recording ?? null,
  };
}

import type { StoredCalibration } from '@/lib/reduction/carCalibrations';
import type { KnownSubjects } from '@/lib/registry/runs/reduceRun';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import type { RunForm } from '@/lib/run/fields';
import { parseRunForm } from '@/lib/run/parseRunForm';
import type { RunRecord } from '@/lib/run/runRecord';
import { completeForm } from '@/test/helpers/runForms';

export const NOW = '2026-11-01T12:00:00.000Z';

/** The record of a form as a careful tester fills it in, on 14 May 2026. */
export function recordOf(changes: RunForm = {}): RunRecord {
  const parsed = parseRunForm(completeForm(changes), { now: NOW });
  if (!parsed.ok) throw new Error(parsed.issues.map((issue) => issue.what).join(' '));
  return parsed.record;
}

export function calibrationOf(changes: Partial<StoredCalibration> = {}): StoredCalibration {
  return {
    instrument: 'speedometer',
    factor: 0.98,
    standardUncertainty: 0.002,
    method: 'Against satellite positioning over 60 km',
    measuredOn: new Date('2026-03-01T00:00:00Z'),
    odometerM: null,
    invalidatedOn: null,
    ...changes,
  };
}

/** A pick-up on a loop of 107 km, as the store returns them. */
export function subjectsOf(
  changes: {
    car?: Partial<KnownSubjects['car']>;
    model?: Partial<KnownSubjects['car']['model']>;
    loop?: Partial<KnownSubjects['loop']>;
  } = {},
): KnownSubjects {
  const cruiseClass = cruiseClassByKey('mph-70');
  if (cruiseClass === undefined) throw new Error('the class is gone');
  return {
    car: {
      id: 'car',
      ownerId: 'owner',
      modelId: 'model',
      isDemo: false,
      registeredMassKg: null,
      usableCapacityWh: null,
      dragAreaM2: null,
      rollingCoefficient: null,
      coastDownF0N: null,
      coastDownF1NPerKmh: null,
      coastDownF2NPerKmh2: null,
      ownValuesSource: null,
      placardFrontPa: 290_000,
      placardRearPa: 290_000,
      model: {
        id: 'model',
        bodyClass: 'pickup',
        kerbMassKg: 2900,
        usableCapacityWh: 120_000,
        dragAreaM2: null,
        dragAreaSource: null,
        hasHeatPump: false,
        levels: [],
        ...changes.model,
      },
      calibrations: [],
      ...changes.car,
    },
    setup: { id: 'setup', modelId: 'model', isDemo: false, levels: [] },
    loop: {
      id: 'loop',
      name: 'North causeway',
      isDemo: false,
      lengthM: 107_000,
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
    cruiseClass,
  };
}

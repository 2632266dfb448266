import {
  applyCalibration,
  CALIBRATION_LIFE,
  type CalibratedReading,
  type Instrument,
} from '@/lib/physics/calibration';
import type { RunRecord } from '@/lib/run/runRecord';

/** A calibration as the store keeps it: true = factor × indicated. Other tyres end it (`invalidatedOn`). */
export interface StoredCalibration {
  instrument: string;
  factor: number;
  standardUncertainty: number;
  method: string;
  measuredOn: Date;
  odometerM: number | null;
  invalidatedOn: Date | null;
}

const DAY_MS = 24 * 60 * 60 * 1000;

/**
 * A reading of one of the car's instruments as a true value, by the newest calibration that holds on the day of the
 * run. Without any calibration of it from before the run undefined; otherwise, when none holds, why the newest does not.
 */
export function calibrated(
  calibrations: readonly StoredCalibration[],
  instrument: Instrument,
  record: RunRecord,
  indicated: number,
  uIndicated: number,
): CalibratedReading | undefined {
  const dayMs = Date.parse(`${record.localDate}T00:00:00Z`);
  const attempts = calibrations
    .filter((each) => each.instrument === instrument && each.measuredOn.getTime() <= dayMs)
    .toSorted((a, b) => b.measuredOn.getTime() - a.measuredOn.getTime())
    .map((each) => apply(each, instrument, record, indicated, uIndicated, dayMs));
  return attempts.find((attempt) => attempt.ok) ?? attempts[0];
}

/** Whether the speedometer has a calibration that holds on the day of the run. */
export function hasSpeedometerCalibration(
  calibrations: readonly StoredCalibration[],
  record: RunRecord,
): boolean {
  return calibrated(calibrations, 'speedometer', record, 1, 0)?.ok === true;
}

function apply(
  stored: StoredCalibration,
  instrument: Instrument,
  record: RunRecord,
  indicated: number,
  uIndicated: number,
  dayMs: number,
): CalibratedReading {
  const hasEnded = stored.invalidatedOn !== null && stored.invalidatedOn.getTime() <= dayMs;
  return applyCalibration(
    indicated,
    uIndicated,
    {
      instrument,
      // How the true value was had makes no difference to the arithmetic; the stored words stay with the row.
      method: 'gps',
      ratio: stored.factor,
      uRatio: stored.standardUncertainty,
      date: stored.measuredOn.toISOString().slice(0, 10),
      odometerM: 0,
      tyreSetId: 'as calibrated',
    },
    {
      date: record.localDate,
      odometerM: drivenSinceM(stored, record, dayMs),
      tyreSetId: hasEnded ? 'changed since' : 'as calibrated',
    },
  );
}

/**
 * Wear goes by the distance driven since. Where an odometer reading is missing, by the days at the mileage that ends a
 * calibration together with its year (15 000 km a year: common practice, no source).
 */
function drivenSinceM(stored: StoredCalibration, record: RunRecord, dayMs: number): number {
  const odometerM = record.readings.odometerStart?.value;
  if (odometerM !== undefined && stored.odometerM !== null) return odometerM - stored.odometerM;
  const days = (dayMs - stored.measuredOn.getTime()) / DAY_MS;
  return Math.min(1, days / CALIBRATION_LIFE.days) * CALIBRATION_LIFE.distanceM;
}

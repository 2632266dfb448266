import {
  applyCalibration,
  CALIBRATION_LIFE,
  type CalibratedReading,
  type Instrument,
} from '@/lib/physics/calibration';
import type { CalibrationSnapshot, ReducedRecord } from './snapshot';

const DAY_MS = 24 * 60 * 60 * 1000;

/** Midnight of a day, in UTC as all days are counted here. */
const dayMsOf = (day: string): number => Date.parse(`${day}T00:00:00Z`);

/**
 * A reading of one of the car's instruments as a true value, by the newest calibration that holds on the day of the
 * run. Without any calibration of it from before the run undefined; otherwise, when none holds, why the newest does not.
 */
export function calibrated(
  calibrations: readonly CalibrationSnapshot[],
  instrument: Instrument,
  record: ReducedRecord,
  indicated: number,
  uIndicated: number,
): CalibratedReading | undefined {
  const dayMs = dayMsOf(record.localDate);
  const attempts = calibrations
    .filter((each) => each.instrument === instrument && dayMsOf(each.measuredOn) <= dayMs)
    .toSorted((a, b) => dayMsOf(b.measuredOn) - dayMsOf(a.measuredOn))
    .map((each) => apply(each, instrument, record, indicated, uIndicated, dayMs));
  return attempts.find((attempt) => attempt.ok) ?? attempts[0];
}

/** Whether the speedometer has a calibration that holds on the day of the run. */
export function hasSpeedometerCalibration(
  calibrations: readonly CalibrationSnapshot[],
  record: ReducedRecord,
): boolean {
  return calibrated(calibrations, 'speedometer', record, 1, 0)?.ok === true;
}

function apply(
  stored: CalibrationSnapshot,
  instrument: Instrument,
  record: ReducedRecord,
  indicated: number,
  uIndicated: number,
  dayMs: number,
): CalibratedReading {
  const hasEnded = stored.invalidatedOn !== null && dayMsOf(stored.invalidatedOn) <= dayMs;
  return applyCalibration(
    indicated,
    uIndicated,
    {
      instrument,
      // How the true value was had makes no difference to the arithmetic.
      method: 'gps',
      ratio: stored.factor,
      uRatio: stored.standardUncertainty,
      date: stored.measuredOn,
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
function drivenSinceM(stored: CalibrationSnapshot, record: ReducedRecord, dayMs: number): number {
  const odometerM = record.readings.odometerStart?.value;
  if (odometerM !== undefined && stored.odometerM !== null) return odometerM - stored.odometerM;
  const days = (dayMs - dayMsOf(stored.measuredOn)) / DAY_MS;
  return Math.min(1, days / CALIBRATION_LIFE.days) * CALIBRATION_LIFE.distanceM;
}

import type { QuantityReading } from '@/lib/run/runRecord';
import { calibrated } from './carCalibrations';
import { rectangularU } from './readingUncertainty';
import type { CalibrationSnapshot, ReducedRecord } from './snapshot';

/** The cruise speed that a run is normalised from, and what it was checked against. */
export interface RunSpeed {
  cruiseSpeedMps: number;
  uMps: number;
  /** As stated by the tester, the speedometer's reading times its calibration, or the mean over a recording's cruise. */
  source: 'stated' | 'calibratedSpeedometer' | 'trace';
  /** Stated true speed against the calibrated speedometer; null where one of them is missing. */
  crossCheck: { statedMps: number; calibratedMps: number; uDifferenceMps: number; agrees: boolean } | null;
  /** Why a calibrated speedometer could not be used although the form names one; null when there is nothing to say. */
  refusal: string | null;
  /** What the form alone gives, where a recording took its place. */
  byForm?: { cruiseSpeedMps: number; uMps: number; source: RunSpeed['source']; agrees: boolean };
}

/**
 * Satellite positioning gives a mean speed to a few tenths of a km/h; a speedometer said to be calibrated, without a
 * calibration on file, to about one; a speed that nobody verified to about three. Common practice, no source.
 */
const METHOD_U_KMH = { positioning: 0.3, calibratedSpeedometer: 1, notVerified: 3 } as const;

/** Normal deviate beyond which stated and calibrated speed cannot both be true: 1 % two-sided. */
const DISAGREES_BEYOND = 2.576;

/**
 * True cruise speed of a run. By a calibrated speedometer it is the shown speed × the calibration's ratio with the
 * uncertainty of both; a stated speed that contradicts it widens it by the whole difference, since either may be wrong.
 */
export function runSpeed(record: ReducedRecord, calibrations: readonly CalibrationSnapshot[]): RunSpeed {
  const { trueSpeed, indicatedSpeed } = record.readings;
  const stated = trueSpeed?.value ?? Number.NaN;
  const uStated = statedU(record, trueSpeed);
  const byCalibration =
    indicatedSpeed === undefined
      ? undefined
      : calibrated(calibrations, 'speedometer', record, indicatedSpeed.value, rectangularU(indicatedSpeed));
  const asStated: RunSpeed = {
    cruiseSpeedMps: stated,
    uMps: uStated,
    source: 'stated',
    crossCheck: null,
    refusal: null,
  };
  const isByCalibration = record.trueSpeedMethod === 'calibratedSpeedometer';
  if (byCalibration === undefined || !byCalibration.ok) {
    return { ...asStated, refusal: isByCalibration ? (byCalibration?.message ?? null) : null };
  }
  const crossCheck =
    trueSpeed === undefined
      ? null
      : compare(
          stated,
          isByCalibration ? rectangularU(trueSpeed) : uStated,
          byCalibration.value,
          byCalibration.u,
        );
  if (!isByCalibration) return { ...asStated, crossCheck };
  const doubtMps = crossCheck === null || crossCheck.agrees ? 0 : crossCheck.statedMps - byCalibration.value;
  return {
    cruiseSpeedMps: byCalibration.value,
    uMps: Math.hypot(byCalibration.u, doubtMps),
    source: 'calibratedSpeedometer',
    crossCheck,
    refusal: null,
  };
}

function compare(statedMps: number, uStatedMps: number, calibratedMps: number, uCalibratedMps: number) {
  const uDifferenceMps = Math.hypot(uStatedMps, uCalibratedMps);
  const agrees = Math.abs(statedMps - calibratedMps) <= DISAGREES_BEYOND * uDifferenceMps;
  return { statedMps, calibratedMps, uDifferenceMps, agrees };
}

function statedU(record: ReducedRecord, trueSpeed: QuantityReading | undefined): number {
  return Math.hypot(METHOD_U_KMH[record.trueSpeedMethod] / 3.6, rectangularU(trueSpeed));
}

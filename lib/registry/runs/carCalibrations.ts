import type { RunRecord } from '@/lib/domain/runRecord';
import { CALIBRATION_LIFE } from '@/lib/physics/calibration';

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

/** The newest calibration of the speedometer that holds on the day of the run. */
export function validSpeedometerCalibration<Calibration extends StoredCalibration>(
  calibrations: readonly Calibration[],
  record: RunRecord,
): Calibration | undefined {
  const dayMs = Date.parse(`${record.localDate}T00:00:00Z`);
  return calibrations
    .filter((calibration) => {
      const ageDays = (dayMs - calibration.measuredOn.getTime()) / DAY_MS;
      const hasEnded = calibration.invalidatedOn !== null && calibration.invalidatedOn.getTime() <= dayMs;
      const drivenM =
        (record.readings.odometerStart?.value ?? 0) - (calibration.odometerM ?? Number.POSITIVE_INFINITY);
      return (
        calibration.instrument === 'speedometer' &&
        ageDays >= 0 &&
        ageDays <= CALIBRATION_LIFE.days &&
        drivenM <= CALIBRATION_LIFE.distanceM &&
        !hasEnded
      );
    })
    .toSorted((a, b) => b.measuredOn.getTime() - a.measuredOn.getTime())[0];
}

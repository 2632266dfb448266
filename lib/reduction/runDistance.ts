import { calibrated } from './carCalibrations';
import { rectangularU } from './readingUncertainty';
import type { CalibrationSnapshot, ReducedRecord } from './snapshot';

/** The true distance that a run is divided by, and what it is made of. */
export interface RunDistance {
  distanceM: number;
  uM: number;
  /** `loopAndDisplay`: a loop that is known too coarsely, joined by weighted mean with the car's own distance. */
  source: 'loop' | 'loopAndDisplay';
  /** The car's trip distance as a true one; null where it was not needed or not read. */
  display: { distanceM: number; uM: number; isCalibrated: boolean } | null;
}

/** A loop known to this share of its length stands alone: no car's odometer is better. Own judgement. */
const KNOWN_WELL = 0.01;
/** An odometer that nobody calibrated: true = (1 ± 0.02) × shown, standard uncertainty. Common practice, no source. */
const UNCALIBRATED_U = 0.02;
/** A length stated as exact still is a length measured to the metre. */
const LEAST_LENGTH_U_M = 1;

/**
 * The loop's own length; where it is not known to 1 %, its weighted mean with the displayed distance × odometer factor,
 * weights 1/u², widened by the Birge ratio when the two disagree (R. T. Birge, Phys. Rev. 40 (1932) 207).
 */
export function runDistance(
  record: ReducedRecord,
  loop: { lengthM: number; lengthUncertaintyM: number },
  calibrations: readonly CalibrationSnapshot[],
): RunDistance {
  const uLoopM = Math.max(loop.lengthUncertaintyM, LEAST_LENGTH_U_M);
  const { tripDistance } = record.readings;
  if (uLoopM / loop.lengthM <= KNOWN_WELL || tripDistance === undefined) {
    return { distanceM: loop.lengthM, uM: uLoopM, source: 'loop', display: null };
  }
  const uShown = rectangularU(tripDistance);
  const byCalibration = calibrated(calibrations, 'odometer', record, tripDistance.value, uShown);
  const display =
    byCalibration?.ok === true
      ? { distanceM: byCalibration.value, uM: byCalibration.u, isCalibrated: true }
      : {
          distanceM: tripDistance.value,
          uM: Math.hypot(uShown, UNCALIBRATED_U * tripDistance.value),
          isCalibrated: false,
        };
  const loopWeight = 1 / uLoopM ** 2;
  const displayWeight = 1 / display.uM ** 2;
  const weights = loopWeight + displayWeight;
  const birge = Math.abs(loop.lengthM - display.distanceM) / Math.hypot(uLoopM, display.uM);
  return {
    distanceM: (loopWeight * loop.lengthM + displayWeight * display.distanceM) / weights,
    uM: Math.max(1, birge) / Math.sqrt(weights),
    source: 'loopAndDisplay',
    display,
  };
}

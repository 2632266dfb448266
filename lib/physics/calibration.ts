/**
 * Speedometers and odometers against true values, as ratio true/indicated with its date and method. A ratio holds for
 * one set of tyres and drifts with their wear; past its age or distance it no longer applies.
 */
export type Instrument = 'speedometer' | 'odometer';
export type CalibrationMethod = 'gps' | 'kilometrePosts' | 'loopLength' | 'rollingRoad';

export interface Calibration {
  readonly instrument: Instrument;
  readonly method: CalibrationMethod;
  /** True over indicated. */
  readonly ratio: number;
  readonly uRatio: number;
  readonly date: string;
  readonly odometerM: number;
  readonly tyreSetId: string;
}

export interface CalibrationPair {
  readonly indicated: number;
  readonly trueValue: number;
  /** Standard uncertainty of the true value. */
  readonly uTrue: number;
}

/** Use of an instrument at a later time. */
export interface InstrumentUse {
  readonly date: string;
  readonly odometerM: number;
  readonly tyreSetId: string;
}

export type CalibratedReading =
  | { readonly ok: true; readonly value: number; readonly u: number }
  | {
      readonly ok: false;
      readonly reason: 'otherTyres' | 'tooOld' | 'tooWorn' | 'beforeCalibration';
      readonly message: string;
    };

/** Validity limits: own judgement. */
export const CALIBRATION_LIFE = { days: 365, distanceM: 15_000_000 } as const;
/**
 * A tyre loses about 6 mm of tread on a radius of some 330 mm in 40 000 km: the distance per turn falls by up to 1.8 %,
 * so by 4.5·10⁻¹⁰ of itself per metre (common practice, no source). Rectangular from none to that.
 */
const WEAR_PER_M = 0.018 / 40_000_000;

/**
 * Ratio true/indicated by weighted least squares through the origin. With more than one pair the uncertainty is the
 * larger of that from the stated ones and that from the scatter.
 */
export function ratioFromPairs(pairs: readonly CalibrationPair[]): {
  readonly ratio: number;
  readonly uRatio: number;
} {
  let xx = 0;
  let xy = 0;
  for (const { indicated, trueValue, uTrue } of pairs) {
    const weight = 1 / (uTrue * uTrue);
    xx += weight * indicated * indicated;
    xy += weight * indicated * trueValue;
  }
  if (!(xx > 0)) throw new RangeError('a calibration needs at least one pair above zero');
  const ratio = xy / xx;
  let chiSquare = 0;
  for (const { indicated, trueValue, uTrue } of pairs)
    chiSquare += ((trueValue - ratio * indicated) / uTrue) ** 2;
  const scatter = pairs.length > 1 ? Math.sqrt(chiSquare / (pairs.length - 1)) : 1;
  return { ratio, uRatio: Math.max(1, scatter) / Math.sqrt(xx) };
}

/** The true value of an indicated one with its standard uncertainty, or why the calibration no longer holds. */
export function applyCalibration(
  indicated: number,
  uIndicated: number,
  calibration: Calibration,
  use: InstrumentUse,
): CalibratedReading {
  if (use.tyreSetId !== calibration.tyreSetId) {
    return refuse('otherTyres', 'The tyres are not those of the calibration: calibrate again on this set.');
  }
  const days = (Date.parse(use.date) - Date.parse(calibration.date)) / 86_400_000;
  const drivenM = use.odometerM - calibration.odometerM;
  if (Number.isNaN(days)) throw new RangeError('dates must be ISO 8601');
  if (days < 0 || drivenM < 0) {
    return refuse('beforeCalibration', 'The reading is older than the calibration.');
  }
  if (days > CALIBRATION_LIFE.days) {
    return refuse(
      'tooOld',
      `The calibration is ${Math.floor(days)} days old, more than ${CALIBRATION_LIFE.days}.`,
    );
  }
  if (drivenM > CALIBRATION_LIFE.distanceM) {
    return refuse(
      'tooWorn',
      `The tyres have run ${Math.round(drivenM / 1000)} km since the calibration, more than ${CALIBRATION_LIFE.distanceM / 1000} km.`,
    );
  }
  // wear shortens the turn by 0 to a: centre −a/2, u = (a/2)/√3
  const wear = WEAR_PER_M * drivenM;
  const ratio = calibration.ratio * (1 - wear / 2);
  const uRatio = Math.hypot(calibration.uRatio, (calibration.ratio * wear) / 2 / Math.sqrt(3));
  return { ok: true, value: indicated * ratio, u: Math.hypot(uIndicated * ratio, indicated * uRatio) };
}

/**
 * What a type-approved speedometer may show at a true speed, in m/s: never less than the truth and at most
 * V2/10 + 4 km/h more, 0 ≤ V1 − V2 ≤ V2/10 + 4 km/h (UN Regulation No. 39, 5.4; from memory).
 */
export function speedometerBand(trueSpeedMps: number): { readonly lowMps: number; readonly highMps: number } {
  return { lowMps: trueSpeedMps, highMps: trueSpeedMps * 1.1 + 4 / 3.6 };
}

/** Whether a shown speed can come from a type-approved speedometer, allowing for half its last digit. */
export function isAllowedSpeedometer(shownMps: number, trueSpeedMps: number, halfDigitMps = 0): boolean {
  const { lowMps, highMps } = speedometerBand(trueSpeedMps);
  return shownMps + halfDigitMps >= lowMps && shownMps - halfDigitMps <= highMps;
}

function refuse(
  reason: Extract<CalibratedReading, { ok: false }>['reason'],
  message: string,
): CalibratedReading {
  return { ok: false, reason, message };
}

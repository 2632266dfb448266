/**
 * Wind over a loop. A driver on bearing θ in a wind from φ at speed U meets a headwind U·cos(φ − θ) and a crosswind
 * U·sin(φ − θ). Over a closed loop the headwind's mean is zero (Σ of the route's vectors is), so what remains in the
 * aerodynamic term is of second order: w² = ⟨h²⟩ along and (1 + κ)·c² across.
 */
export interface BearingShare {
  readonly bearingDeg: number;
  readonly lengthM: number;
}

export interface WindReport {
  /** Mean at 10 m. */
  readonly speedMps: number;
  /** Where it comes from; null when variable or calm. */
  readonly fromDeg: number | null;
  /** It had one direction that nobody knows: unlike a variable wind, which comes from everywhere over the run itself. */
  readonly isDirectionUnknown?: boolean | undefined;
  readonly gustMps?: number | undefined;
  /** Standard uncertainty of the mean speed at 10 m over the loop, where the report's station and times tell it. */
  readonly uSpeedMps?: number | undefined;
  /** Roughness length of the land along the route in m, where it is stated (0.03 open grass, 0.1 crops, 0.5 suburbs). */
  readonly roughnessM?: number | undefined;
}

/** A 10 m wind at about 1 m: 0.60 by the log law at z0 = 0.03 m, 0.72 by the 1/7 power law; rectangular between. */
export const CAR_HEIGHT_REDUCTION = 0.66;
export const CAR_HEIGHT_REDUCTION_HALF_WIDTH = 0.1;
/** With a stated roughness length the log law is taken, and a factor of 2 in z0 is half a tenth in the reduction. */
const STATED_ROUGHNESS_HALF_WIDTH = 0.05;
const CAR_HEIGHT_M = 1;
/** Standard uncertainty of sheltering and exposure along the route, of the wind itself. */
export const EXPOSURE_RELATIVE_U = 0.3;
/** A report of calm still is uncertain by this much at 10 m (half a metre a second; WMO Guide No. 8, from memory). */
const REPORT_U_MPS = 0.5;
/** Standard uncertainty of the direction at the road against the station's: own judgement. */
const DIRECTION_U_DEG = 15;

const RADIANS = Math.PI / 180;

/** U(z)/U(10 m) by the logarithmic profile over a surface of roughness length z0 (WMO Guide No. 8, Annex 5; neutral). */
export function logLawReduction(heightM: number, roughnessM: number): number {
  return Math.log(heightM / roughnessM) / Math.log(10 / roughnessM);
}

/** U(z)/U(10 m) by a power law. */
export function powerLawReduction(heightM: number, exponent: number): number {
  return (heightM / 10) ** exponent;
}

export interface BearingMoments {
  /** Distance-weighted means of cos, sin and cos² of the angle between wind and route. */
  readonly meanCosine: number;
  readonly meanSine: number;
  readonly meanSquaredCosine: number;
  readonly lengthM: number;
}

/** Distance-weighted moments of a wind from `fromDeg` along a route. */
export function bearingMoments(route: readonly BearingShare[], fromDeg: number): BearingMoments {
  let length = 0;
  let cosine = 0;
  let sine = 0;
  let squared = 0;
  for (const { bearingDeg, lengthM } of route) {
    const angle = (fromDeg - bearingDeg) * RADIANS;
    const c = Math.cos(angle);
    length += lengthM;
    cosine += c * lengthM;
    sine += Math.sin(angle) * lengthM;
    squared += c * c * lengthM;
  }
  if (!(length > 0)) throw new RangeError('a route needs a length above zero');
  return {
    meanCosine: cosine / length,
    meanSine: sine / length,
    meanSquaredCosine: squared / length,
    lengthM: length,
  };
}

/**
 * Mean headwind in m/s at car height along a route, or along one leg of it; tailwind is negative. Its uncertainty holds
 * that of the direction (method A4): with S and C the means of sin and cos of the angle between wind and route, a
 * direction known to σ moves V·cos by V·hypot(S·σ, C·σ²/√2); an unknown one leaves a mean of 0 and V/√2, and the speed's
 * own uncertainty with it.
 */
export function meanHeadwindMps(
  report: WindReport,
  route: readonly BearingShare[],
): { readonly valueMps: number; readonly uMps: number } {
  const reduction = carHeightReduction(report);
  const speed = reduction.factor * report.speedMps;
  if (report.fromDeg === null) {
    const uSpeed = componentU(speed, reduction, report.uSpeedMps);
    return { valueMps: 0, uMps: Math.hypot(speed, uSpeed) / Math.SQRT2 };
  }
  const { meanCosine, meanSine } = bearingMoments(route, report.fromDeg);
  const value = speed * meanCosine;
  const sigma = DIRECTION_U_DEG * RADIANS;
  const uDirection = speed * Math.hypot(meanSine * sigma, (meanCosine * sigma * sigma) / Math.SQRT2);
  return { valueMps: value, uMps: Math.hypot(componentU(value, reduction, report.uSpeedMps), uDirection) };
}

interface Reduction {
  readonly factor: number;
  readonly halfWidth: number;
}

/** Factor from 10 m to car height and the half-width of its rectangular distribution. */
function carHeightReduction({ roughnessM }: WindReport): Reduction {
  return roughnessM === undefined
    ? { factor: CAR_HEIGHT_REDUCTION, halfWidth: CAR_HEIGHT_REDUCTION_HALF_WIDTH }
    : { factor: logLawReduction(CAR_HEIGHT_M, roughnessM), halfWidth: STATED_ROUGHNESS_HALF_WIDTH };
}

export interface LoopWind {
  /** rms at car height with the expectation of what is not known: w² = ⟨h²⟩ + u² + gust variance. */
  readonly alongWindMps: number;
  readonly crossWindMps: number;
  /** Standard uncertainties of the two rms values, from the variance of the squares. */
  readonly uAlongMps: number;
  readonly uCrossMps: number;
  /** Of the two rms values: below 0 where the direction is not known, as what is not along the road is across it. */
  readonly correlation: number;
  /** Distance-weighted mean headwind; zero but for rounding on a closed loop. */
  readonly meanHeadwindMps: number;
}

/**
 * A reported wind as the model's rms components over a loop. For a component x ± u the square has expectation x² + u²
 * and variance 4x²u² + 2u⁴ (moments of a normal), so that a calm day is not taken as a certain one. Gusts add
 * σ² = ((gust − mean)/3)² to both. An uncertain direction turns some of one component into the other; one that nobody
 * knows does so to an extent that is uncertain itself (`varianceOfSquaredCosine`).
 */
export function windOnLoop(report: WindReport, route: readonly BearingShare[]): LoopWind {
  const reduction = carHeightReduction(report);
  const speed = reduction.factor * report.speedMps;
  let cosine = 0;
  let squaredCosine = 0.5;
  if (report.fromDeg !== null) {
    const moments = bearingMoments(route, report.fromDeg);
    cosine = moments.meanCosine;
    // ⟨cos²⟩ averaged over a normal direction error of σ: ½(1 + e^(−2σ²)·(2⟨cos²⟩ − 1))
    const blur = Math.exp(-2 * (DIRECTION_U_DEG * RADIANS) ** 2);
    squaredCosine = 0.5 * (1 + blur * (2 * moments.meanSquaredCosine - 1));
  }
  const gust = reduction.factor * (Math.max(0, (report.gustMps ?? report.speedMps) - report.speedMps) / 3);
  const along = squareOf(speed * Math.sqrt(squaredCosine), gust, reduction, report.uSpeedMps);
  const cross = squareOf(speed * Math.sqrt(1 - squaredCosine), gust, reduction, report.uSpeedMps);
  const turned =
    report.fromDeg === null && report.isDirectionUnknown === true
      ? speed ** 4 * varianceOfSquaredCosine(route)
      : 0;
  return {
    alongWindMps: Math.sqrt(along.mean),
    crossWindMps: Math.sqrt(cross.mean),
    uAlongMps: Math.sqrt(along.variance + turned) / (2 * Math.sqrt(along.mean)),
    uCrossMps: Math.sqrt(cross.variance + turned) / (2 * Math.sqrt(cross.mean)),
    correlation:
      turned === 0 ? 0 : -turned / Math.sqrt((along.variance + turned) * (cross.variance + turned)),
    meanHeadwindMps: speed * cosine,
  };
}

/**
 * Variance, over all directions of the wind alike, of the distance-weighted mean of cos² of the angle between wind and
 * route. That mean is ½(1 + R·cos(2φ − ψ)) with R = |Σ share·e^(2iθ)|: 1 where the whole route runs along one line, 0
 * where it has no line of its own. Of an unknown phase it has an arc sine distribution between ½(1 − R) and ½(1 + R):
 * mean ½ and variance R²/8 (JCGM 101:2008, 6.4.6, clause from memory). Times U⁴ it is the variance of w²; as w² + c² = U²
 * stays, c² has the same with the opposite sign. The mean headwind of one leg is 0 ± U/√2 in the same way.
 */
export function varianceOfSquaredCosine(route: readonly BearingShare[]): number {
  const { meanSquaredCosine: toNorth } = bearingMoments(route, 0);
  const { meanSquaredCosine: toNorthEast } = bearingMoments(route, 45);
  // ⟨cos²⟩ at 0° and 45° are ½(1 + ⟨cos 2θ⟩) and ½(1 + ⟨sin 2θ⟩).
  const squaredR = (2 * toNorth - 1) ** 2 + (2 * toNorthEast - 1) ** 2;
  return squaredR / 8;
}

/** Standard uncertainty of a wind component at car height: reduction, exposure, and the report itself. */
function componentU(component: number, { factor, halfWidth }: Reduction, uReportMps = REPORT_U_MPS): number {
  return Math.hypot(
    (halfWidth / Math.sqrt(3) / factor) * component,
    EXPOSURE_RELATIVE_U * component,
    factor * uReportMps,
  );
}

/** Mean and variance of a component's square. */
function squareOf(
  component: number,
  gust: number,
  reduction: Reduction,
  uReportMps: number | undefined,
): { mean: number; variance: number } {
  const u = componentU(component, reduction, uReportMps);
  return {
    mean: component * component + u * u + gust * gust,
    variance: 4 * component * component * u * u + 2 * u ** 4,
  };
}

/**
 * 'A loop cancels the wind' in numbers: what steady along- and cross-route winds (m/s, car height) still add on an
 * out-and-back at speed v, as shares of the aerodynamic term and of consumption.
 */
export function windLeftOnLoop(input: {
  readonly speedMps: number;
  readonly alongWindMps: number;
  readonly crossWindMps: number;
  readonly yawDragPerRad2: number;
  /** Share of consumption at the battery that is aerodynamic in still air. */
  readonly aeroShare: number;
}): { readonly ofAero: number; readonly ofConsumption: number } {
  const { speedMps, alongWindMps, crossWindMps, yawDragPerRad2, aeroShare } = input;
  const ofAero = (alongWindMps ** 2 + (1 + yawDragPerRad2) * crossWindMps ** 2) / speedMps ** 2;
  // of consumption in that wind, as a step from it to still air is
  return { ofAero, ofConsumption: (ofAero * aeroShare) / (1 + ofAero * aeroShare) };
}

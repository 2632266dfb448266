import { STANDARD_GRAVITY } from './atmosphere';
import { STANDARD_REFERENCE } from './roadLoad';

/**
 * Road-load coefficients from a coast-down, F = f0 + f1·V + f2·V² with V in km/h and F in N, and their correction to
 * reference conditions by UN GTR No. 15, Annex 4, 4.5 (formulas and constants from memory):
 *
 *   F* = ((f0 − w1 − K1) + f1·V)·(1 + K0(T − 20)) + K2·f2·V²
 *   K0 = 8.6·10⁻³ /K,  K1 = f0·(1 − TM/m_av),  K2 = (T/293)·(100/P), T in K and P in kPa,  w1 = 3.6²·f2·v_w²
 */
export interface CoastDownCoefficients {
  readonly f0N: number;
  readonly f1NPerKmh: number;
  readonly f2NPerKmh2: number;
}

export interface CoastDownConditions {
  readonly temperatureC: number;
  readonly pressurePa: number;
  /** Mean wind component along the test road, m/s, of runs in both directions. */
  readonly alongWindMps: number;
  /** Mean of the masses at the start and end of the coast-down. */
  readonly testedMassKg: number;
  /** The mass the result is wanted for. */
  readonly targetMassKg: number;
}

/** The coast-down coefficients of a car of which all three are known. */
export function coastDownOf(car: {
  coastDownF0N: number | null;
  coastDownF1NPerKmh: number | null;
  coastDownF2NPerKmh2: number | null;
}): CoastDownCoefficients | null {
  const { coastDownF0N: f0N, coastDownF1NPerKmh: f1NPerKmh, coastDownF2NPerKmh2: f2NPerKmh2 } = car;
  return f0N === null || f1NPerKmh === null || f2NPerKmh2 === null ? null : { f0N, f1NPerKmh, f2NPerKmh2 };
}

const K0_PER_K = 8.6e-3;

/** Coefficients at 20 °C, 100 kPa, no wind and the target mass. */
export function correctCoastDown(
  measured: CoastDownCoefficients,
  conditions: CoastDownConditions,
): CoastDownCoefficients {
  const { f0N, f1NPerKmh, f2NPerKmh2 } = measured;
  const windN = 3.6 ** 2 * f2NPerKmh2 * conditions.alongWindMps ** 2;
  const massN = f0N * (1 - conditions.targetMassKg / conditions.testedMassKg);
  const rolling = 1 + K0_PER_K * (conditions.temperatureC - 20);
  const density = ((conditions.temperatureC + 273.15) / 293) * (100_000 / conditions.pressurePa);
  return {
    f0N: (f0N - windN - massN) * rolling,
    f1NPerKmh: f1NPerKmh * rolling,
    f2NPerKmh2: density * f2NPerKmh2,
  };
}

/** Force in N at a speed in m/s. */
export function coastDownForceN(coefficients: CoastDownCoefficients, speedMps: number): number {
  const kmh = speedMps * 3.6;
  return coefficients.f0N + coefficients.f1NPerKmh * kmh + coefficients.f2NPerKmh2 * kmh * kmh;
}

/**
 * The road-load model's parameters for coefficients at reference conditions: CdA = 2·f2·3.6²/ρ0,
 * Crr = f0/(m·g), and the linear term kept as it is, in N/(m/s).
 */
export function coastDownAsRoadLoad(
  coefficients: CoastDownCoefficients,
  massKg: number,
): { dragAreaM2: number; rollingCoefficient: number; linearNPerMps: number } {
  return {
    dragAreaM2: (2 * coefficients.f2NPerKmh2 * 3.6 ** 2) / STANDARD_REFERENCE.airDensityKgM3,
    rollingCoefficient: coefficients.f0N / (massKg * STANDARD_GRAVITY),
    linearNPerMps: coefficients.f1NPerKmh * 3.6,
  };
}

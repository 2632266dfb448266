import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { READING_PRIORS } from './priors';

/**
 * Several readings of one energy brought together (method A1): those of the car's own counter by weighted least squares,
 * widened by the Birge ratio (R. T. Birge, Phys. Rev. 40 (1932) 207) only where their χ² test fails, as with one or two
 * degrees of freedom it would inflate on luck alone. Charge drop and charger are checks on the counter, not averaged
 * with it: their conversion is known to 3 or 4 %, their errors last for a car's life.
 */
export interface EnergyReading {
  readonly label: string;
  readonly energyWh: number;
  readonly uWh: number;
  /** Read off the car's energy counter, whose scale error all such readings share. */
  readonly isCounter: boolean;
}

export interface JudgedReading extends EnergyReading {
  readonly standardisedResidual: number;
  /** Whether the energy is a mean over it, or only compared with it. */
  readonly isAveraged: boolean;
}

export interface ReconciledEnergy {
  readonly energyWh: number;
  /** Standard uncertainty without the counter's scale, which all runs of a car share; widened where the test fails. */
  readonly uWh: number;
  /** From the stated uncertainties alone. */
  readonly uInternalWh: number;
  /** Of all readings about their generalised mean, with what the counter's readings share. */
  readonly chiSquare: number;
  readonly dof: number;
  readonly pValue: number;
  /** √(χ²/(k − 1)) of those averaged; null for a single one. */
  readonly birgeRatio: number | null;
  readonly readings: readonly JudgedReading[];
  /** Largest standardised residual, when χ² fails at 1 %. */
  readonly disagreeing: { readonly label: string; readonly standardisedResidual: number } | null;
}

const FAIL_AT = 0.01;

/**
 * Weighted mean with weights 1/u² of the counter's readings, or of all where there is none of it. A standardised
 * residual is what χ² falls by without the reading, ±√(χ² − χ²₋ᵢ): its distance from what the others say together over
 * the standard deviation of that distance.
 *
 * @param uScale relative standard uncertainty of the counter's own scale
 */
export function reconcileEnergy(
  readings: readonly EnergyReading[],
  uScale = READING_PRIORS.energyDisplayScale.u,
): ReconciledEnergy {
  if (readings.length === 0) throw new RangeError('at least one reading is needed');
  for (const { uWh } of readings) {
    if (!(uWh > 0)) throw new RangeError('every reading needs an uncertainty above zero');
  }
  const hasCounter = readings.some(({ isCounter }) => isCounter);
  const averaged = readings.filter(({ isCounter }) => isCounter === hasCounter);
  const { mean: energyWh, u: uInternalWh, chiSquare: ownChiSquare } = weightedMean(averaged);
  const all = generalisedMean(readings, uScale);
  const judged = readings.map((reading, i): JudgedReading => {
    const rest = readings.filter((_, j) => j !== i);
    const isAveraged = reading.isCounter === hasCounter;
    if (rest.length === 0) return { ...reading, isAveraged, standardisedResidual: 0 };
    const without = generalisedMean(rest, uScale);
    const size = Math.sqrt(Math.max(0, all.chiSquare - without.chiSquare));
    return {
      ...reading,
      isAveraged,
      standardisedResidual: Math.sign(reading.energyWh - without.mean) * size,
    };
  });
  const { chiSquare } = all;
  const dof = readings.length - 1;
  const pValue = dof === 0 ? 1 : chiSquareUpperTail(chiSquare, dof);
  const ownDof = averaged.length - 1;
  const birgeRatio = ownDof === 0 ? null : Math.sqrt(ownChiSquare / ownDof);
  const ownFails = ownDof > 0 && chiSquareUpperTail(ownChiSquare, ownDof) < FAIL_AT;
  const worst = judged.reduce((a, b) =>
    Math.abs(b.standardisedResidual) > Math.abs(a.standardisedResidual) ? b : a,
  );
  return {
    energyWh,
    uWh: uInternalWh * (ownFails ? (birgeRatio ?? 1) : 1),
    uInternalWh,
    chiSquare,
    dof,
    pValue,
    birgeRatio,
    readings: judged,
    disagreeing:
      pValue < FAIL_AT || ownFails
        ? { label: worst.label, standardisedResidual: worst.standardisedResidual }
        : null,
  };
}

/**
 * Mean and χ² of all readings, where the counter's share the error of its scale: among themselves they scatter without
 * it, and act on the others as their mean with it (generalised least squares for a block-shared error).
 */
function generalisedMean(readings: readonly EnergyReading[], uScale: number) {
  const counter = readings.filter(({ isCounter }) => isCounter);
  const others = readings.filter(({ isCounter }) => !isCounter);
  if (counter.length === 0) return weightedMean(others);
  const own = weightedMean(counter);
  const block = { energyWh: own.mean, uWh: Math.hypot(own.u, uScale * own.mean) };
  const together = weightedMean([block, ...others]);
  return { ...together, chiSquare: own.chiSquare + together.chiSquare };
}

function weightedMean(readings: readonly Pick<EnergyReading, 'energyWh' | 'uWh'>[]) {
  let weights = 0;
  let weighted = 0;
  for (const { energyWh, uWh } of readings) {
    weights += 1 / (uWh * uWh);
    weighted += energyWh / (uWh * uWh);
  }
  const mean = weighted / weights;
  let chiSquare = 0;
  for (const { energyWh, uWh } of readings) chiSquare += ((energyWh - mean) / uWh) ** 2;
  return { mean, u: Math.sqrt(1 / weights), chiSquare };
}

/**
 * Upper tail of χ² with a whole number of degrees of freedom, small tails kept exact:
 * Q_ν = Q_(ν−2) + (x/2)^(ν/2−1)·e^(−x/2)/Γ(ν/2) (Abramowitz and Stegun, 26.4.4 and 26.4.5).
 */
export function chiSquareUpperTail(x: number, dof: number): number {
  if (x <= 0) return 1;
  const half = x / 2;
  const odd = dof % 2 === 1;
  let tail = odd ? 2 * normalCdf(-Math.sqrt(x), 0, 1) : Math.exp(-half);
  // term for ν = 3 or 4, then each next is (x/2)/(ν/2 − 1) times the last
  let term = odd ? (Math.sqrt(half) * Math.exp(-half)) / (Math.sqrt(Math.PI) / 2) : half * Math.exp(-half);
  for (let nu = odd ? 3 : 4; nu <= dof; nu += 2) {
    tail += term;
    term *= half / (nu / 2);
  }
  return tail;
}

/** Shown energy with the half-width of its last digit: u = a/√3 (JCGM 100:2008, 4.3.7). */
export function energyFromDisplay(energyWh: number, halfDigitWh: number): EnergyReading {
  return { label: 'energy shown', energyWh, uWh: halfDigitWh / Math.sqrt(3), isCounter: true };
}

/** Shown consumption times distance; `uConsumption` from its last digit. */
export function energyFromConsumption(
  consumptionWhPerKm: number,
  uConsumptionWhPerKm: number,
  distanceM: number,
  uDistanceM: number,
): EnergyReading {
  const energyWh = (consumptionWhPerKm * distanceM) / 1000;
  return {
    label: 'consumption shown × distance',
    energyWh,
    uWh: energyWh * Math.hypot(uConsumptionWhPerKm / consumptionWhPerKm, uDistanceM / distanceM),
    isCounter: true,
  };
}

/** Each state of charge is shown to a whole point: the difference is triangular with half-width 1, u = 1/√6 points. */
export const CHARGE_DIFFERENCE_U_SHARE = 0.01 / Math.sqrt(6);

export const LEVEL_LABEL = 'state-of-charge drop × usable capacity';

/** Drop of the state of charge (shares 0..1) times usable capacity. */
export function energyFromCharge(
  startShare: number,
  endShare: number,
  usableCapacityWh: number,
  uCapacityWh: number,
): EnergyReading {
  const drop = startShare - endShare;
  return {
    label: LEVEL_LABEL,
    energyWh: drop * usableCapacityWh,
    uWh: Math.hypot(usableCapacityWh * CHARGE_DIFFERENCE_U_SHARE, drop * uCapacityWh),
    isCounter: false,
  };
}

/** Share of a charger's delivered energy that reaches the battery: priors of common practice, no source. */
export const CHARGING_EFFICIENCY = { dc: { value: 0.92, u: 0.03 }, ac: { value: 0.88, u: 0.04 } } as const;

type ChargerKind = keyof typeof CHARGING_EFFICIENCY;

export function chargerLabel(kind: ChargerKind): string {
  return `energy delivered by the ${kind === 'dc' ? 'DC' : 'AC'} charger`;
}

/** Energy a charger delivered to bring the battery back, times the charging efficiency. */
export function energyFromCharger(
  deliveredWh: number,
  halfDigitWh: number,
  kind: ChargerKind,
): EnergyReading {
  const { value, u } = CHARGING_EFFICIENCY[kind];
  return {
    label: chargerLabel(kind),
    energyWh: deliveredWh * value,
    uWh: Math.hypot((halfDigitWh / Math.sqrt(3)) * value, deliveredWh * u),
    isCounter: false,
  };
}

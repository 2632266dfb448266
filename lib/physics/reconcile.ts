import normalCdf from '@stdlib/stats-base-dists-normal-cdf';

/**
 * Several readings of one energy brought together: weighted least squares with the Birge ratio (R. T. Birge,
 * Phys. Rev. 40 (1932) 207), and the one that disagrees named when χ² fails at 1 %.
 */
export interface EnergyReading {
  readonly label: string;
  readonly energyWh: number;
  readonly uWh: number;
}

export interface ReconciledEnergy {
  readonly energyWh: number;
  /** Standard uncertainty, widened by the Birge ratio when that is above 1. */
  readonly uWh: number;
  /** From the stated uncertainties alone. */
  readonly uInternalWh: number;
  readonly chiSquare: number;
  readonly dof: number;
  readonly pValue: number;
  /** √(χ²/(k − 1)); null for a single reading. */
  readonly birgeRatio: number | null;
  readonly readings: readonly (EnergyReading & { readonly standardisedResidual: number })[];
  /** Largest standardised residual, when χ² fails at 1 %. */
  readonly disagreeing: { readonly label: string; readonly standardisedResidual: number } | null;
}

const FAIL_AT = 0.01;

/** Weighted mean with weights 1/u²; residuals are standardised by their own standard deviation √(u_i² − u_mean²). */
export function reconcileEnergy(readings: readonly EnergyReading[]): ReconciledEnergy {
  if (readings.length === 0) throw new RangeError('at least one reading is needed');
  let weights = 0;
  let weighted = 0;
  for (const { energyWh, uWh } of readings) {
    if (!(uWh > 0)) throw new RangeError('every reading needs an uncertainty above zero');
    weights += 1 / (uWh * uWh);
    weighted += energyWh / (uWh * uWh);
  }
  const energyWh = weighted / weights;
  const uInternalWh = Math.sqrt(1 / weights);
  let chiSquare = 0;
  const judged = readings.map((reading) => {
    const residual = reading.energyWh - energyWh;
    chiSquare += (residual / reading.uWh) ** 2;
    // a reading that alone carries the mean has no residual but rounding
    const spread = Math.sqrt(Math.max(0, reading.uWh ** 2 - uInternalWh ** 2));
    return { ...reading, standardisedResidual: spread < 1e-7 * reading.uWh ? 0 : residual / spread };
  });
  const dof = readings.length - 1;
  const birgeRatio = dof === 0 ? null : Math.sqrt(chiSquare / dof);
  const pValue = dof === 0 ? 1 : chiSquareUpperTail(chiSquare, dof);
  const worst = judged.reduce((a, b) =>
    Math.abs(b.standardisedResidual) > Math.abs(a.standardisedResidual) ? b : a,
  );
  return {
    energyWh,
    uWh: uInternalWh * Math.max(1, birgeRatio ?? 1),
    uInternalWh,
    chiSquare,
    dof,
    pValue,
    birgeRatio,
    readings: judged,
    disagreeing:
      pValue < FAIL_AT ? { label: worst.label, standardisedResidual: worst.standardisedResidual } : null,
  };
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
  return { label: 'energy shown', energyWh, uWh: halfDigitWh / Math.sqrt(3) };
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
  };
}

/** Each state of charge is shown to a whole point: the difference is triangular with half-width 1, u = 1/√6 points. */
export const CHARGE_DIFFERENCE_U_SHARE = 0.01 / Math.sqrt(6);

/** Drop of the state of charge (shares 0..1) times usable capacity. */
export function energyFromCharge(
  startShare: number,
  endShare: number,
  usableCapacityWh: number,
  uCapacityWh: number,
): EnergyReading {
  const drop = startShare - endShare;
  return {
    label: 'state-of-charge drop × usable capacity',
    energyWh: drop * usableCapacityWh,
    uWh: Math.hypot(usableCapacityWh * CHARGE_DIFFERENCE_U_SHARE, drop * uCapacityWh),
  };
}

/** Share of a charger's delivered energy that reaches the battery: priors of common practice, no source. */
export const CHARGING_EFFICIENCY = { dc: { value: 0.92, u: 0.03 }, ac: { value: 0.88, u: 0.04 } } as const;

/** Energy a charger delivered to bring the battery back, times the charging efficiency. */
export function energyFromCharger(
  deliveredWh: number,
  halfDigitWh: number,
  kind: keyof typeof CHARGING_EFFICIENCY,
): EnergyReading {
  const { value, u } = CHARGING_EFFICIENCY[kind];
  return {
    label: `energy delivered by the ${kind === 'dc' ? 'DC' : 'AC'} charger`,
    energyWh: deliveredWh * value,
    uWh: Math.hypot((halfDigitWh / Math.sqrt(3)) * value, deliveredWh * u),
  };
}

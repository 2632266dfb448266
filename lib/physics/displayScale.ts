import { READING_PRIORS } from './priors';

/** ln(energy by another source / energy shown) of one car's runs, by the source; each has a conversion of its own. */
export interface ScaleSource {
  readonly label: string;
  readonly logRatios: readonly number[];
  /** Standard uncertainty of the source's conversion, relative: the same in all runs of the car. */
  readonly uConversion: number;
  /** Standard uncertainty of one run's ratio beyond it, relative. */
  readonly uRun: number;
}

export interface DisplayScale {
  /** By what the energy shown would have to be multiplied, less 1. A finding only: no value is moved by it. */
  readonly scale: number;
  readonly u: number;
  readonly ratios: number;
  /** Whether what the sources say together is beyond what prior and sources let expect, at 1 %. */
  readonly isFinding: boolean;
}

const FINDING_AT = 2.576;

/**
 * The scale of a car's energy display from its charger and charge readings (method A5.3), by conjugate normal updating
 * of the prior 1 ± 1 %: Λ = 1/0.01² + Σ 1/(u_a² + s_a²/n_a), scale = Σ x̄_a/(u_a² + s_a²/n_a)/Λ, u = Λ^(−1/2) (A. Gelman et
 * al., Bayesian Data Analysis, 3rd ed., 2.5). A charging efficiency known to 3 or 4 % tells little however often a car
 * is charged, so the prior stays in the budget and this is shown beside it. Null without any ratio.
 */
export function displayScale(sources: readonly ScaleSource[]): DisplayScale | null {
  const heard = sources.filter(({ logRatios }) => logRatios.length > 0);
  if (heard.length === 0) return null;
  let precision = 0;
  let weighted = 0;
  for (const { logRatios, uConversion, uRun } of heard) {
    const mean = logRatios.reduce((sum, x) => sum + x, 0) / logRatios.length;
    const weight = 1 / (uConversion ** 2 + uRun ** 2 / logRatios.length);
    precision += weight;
    weighted += weight * mean;
  }
  const prior = READING_PRIORS.energyDisplayScale.u;
  const total = 1 / prior ** 2 + precision;
  return {
    scale: weighted / total,
    u: 1 / Math.sqrt(total),
    ratios: heard.reduce((sum, { logRatios }) => sum + logRatios.length, 0),
    isFinding: Math.abs(weighted / precision) > FINDING_AT * Math.hypot(1 / Math.sqrt(precision), prior),
  };
}

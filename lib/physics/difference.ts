import { interval95, type Scope, welchSatterthwaite } from './budget';
import type { BudgetEntry, NormalisedRun } from './normalise';

/** The difference of two normalised runs, with what they share cancelled as far as it acts alike on both. */
export interface RunDifference {
  /** First minus second. */
  readonly differenceWhPerKm: number;
  readonly uWhPerKm: number;
  readonly effectiveDof: number;
  readonly interval95: readonly [number, number];
  /** Covariance of the two results in (Wh/km)². */
  readonly covarianceWhPerKm2: number;
  readonly correlation: number;
  /** Of ln(first/second), which the estimates work on. */
  readonly relativeUncertainty: number;
}

const signed = (entry: BudgetEntry): number =>
  entry.sensitivity < 0 ? -entry.contributionWhPerKm : entry.contributionWhPerKm;

/**
 * Uncertainty of the difference of two results: an input whose scope the runs share is one random variable in both, so
 * u² = Σ_shared (a_i − b_i)² + Σ_own (a_i² + b_i²), a_i = c_i·u_i (JCGM 100:2008, F.1.2.3 and equation 13 for full
 * correlation). `sharedScopes` says what the runs have in common: the session, the car, the model.
 */
export function covarianceOfDifference(
  first: NormalisedRun,
  second: NormalisedRun,
  sharedScopes: readonly Scope[],
): RunDifference {
  const others = new Map(second.budget.map((entry) => [entry.input, entry]));
  const parts: number[] = [];
  const dof: number[] = [];
  let covariance = 0;
  let relativeVariance = 0;
  const push = (entry: BudgetEntry, a: number, b: number) => {
    parts.push(a - b);
    dof.push(entry.dof ?? Number.POSITIVE_INFINITY);
    relativeVariance += (a / first.normalisedWhPerKm - b / second.normalisedWhPerKm) ** 2;
  };
  for (const entry of first.budget) {
    const other = others.get(entry.input);
    if (other !== undefined && other.scope === entry.scope && sharedScopes.includes(entry.scope)) {
      others.delete(entry.input);
      covariance += signed(entry) * signed(other);
      push(entry, signed(entry), signed(other));
    } else {
      push(entry, signed(entry), 0);
    }
  }
  for (const entry of others.values()) push(entry, 0, signed(entry));

  const differenceWhPerKm = first.normalisedWhPerKm - second.normalisedWhPerKm;
  const uWhPerKm = Math.sqrt(parts.reduce((sum, part) => sum + part * part, 0));
  const effectiveDof = welchSatterthwaite(uWhPerKm, parts, dof);
  return {
    differenceWhPerKm,
    uWhPerKm,
    effectiveDof,
    interval95: interval95(differenceWhPerKm, uWhPerKm, effectiveDof),
    covarianceWhPerKm2: covariance,
    correlation: covariance === 0 ? 0 : covariance / (first.uWhPerKm * second.uWhPerKm),
    relativeUncertainty: Math.sqrt(relativeVariance),
  };
}

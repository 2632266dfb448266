import { type ContrastResult, contrast, type Inference } from './inference';

/**
 * Estimates with the whole of what is uncertain about them: the fit's own part, what the runs share, and what the inputs
 * of a car or a day do unequally within a session.
 */
export interface TotalInference {
  own: Inference;
  /** Σ_q λ_q λ_q', m × m (sharedEffects.ts). */
  shared: Float64Array;
  /** What the fit's own part is corrected by (spreadCovariance.ts), m × m; null where there is nothing to correct. */
  within: Float64Array | null;
  /** Sum of all, original units. */
  covariance: Float64Array;
}

export function totalOf(
  own: Inference,
  shared: Float64Array,
  within: Float64Array | null = null,
): TotalInference {
  const covariance = own.covariance.map((value, i) => value + (shared[i] as number) + (within?.[i] ?? 0));
  return { own, shared, within, covariance };
}

export interface TotalContrast extends ContrastResult {
  /** The shared part of the standard error. */
  sharedSe: number;
}

/**
 * Σ weight · effect with its total standard error and degrees of freedom
 *   ν (total / L'Φ_A L)²,  ν from the fit alone,
 * because what is added to the fit's part, or taken from it, is known, not estimated (Welch–Satterthwaite, JCGM
 * 100:2008, G.4.1, with infinite degrees of freedom for it).
 */
export function totalContrast(
  { own, shared, within }: TotalInference,
  terms: readonly (readonly [number, number])[],
): TotalContrast {
  const { difference, se, df } = contrast(own, terms);
  const formOf = (a: Float64Array) => {
    let sum = 0;
    for (const [i, x] of terms) for (const [j, y] of terms) sum += x * y * (a[i * own.m + j] as number);
    return sum;
  };
  const sharedVariance = Math.max(0, formOf(shared));
  const ownVariance = se * se;
  const known = sharedVariance + (within === null ? 0 : formOf(within));
  // never below what is shared but for rounding (spreadCovariance.ts)
  const total = Math.max(ownVariance + known, sharedVariance);
  return {
    difference,
    se: Math.sqrt(total),
    df: ownVariance > 0 ? df * (total / ownVariance) ** 2 : df,
    sharedSe: Math.sqrt(sharedVariance),
  };
}

import { type ContrastResult, contrast, type Inference } from './inference';

/** Estimates with the whole of what is uncertain about them: the fit's own part and what the runs share. */
export interface TotalInference {
  own: Inference;
  /** Σ_q λ_q λ_q', m × m (sharedEffects.ts). */
  shared: Float64Array;
  /** Sum of both, original units. */
  covariance: Float64Array;
}

export function totalOf(own: Inference, shared: Float64Array): TotalInference {
  return { own, shared, covariance: own.covariance.map((value, i) => value + (shared[i] as number)) };
}

export interface TotalContrast extends ContrastResult {
  /** The shared part of the standard error. */
  sharedSe: number;
}

/**
 * Σ weight · effect with its total standard error and degrees of freedom
 *   ν (1 + L'Σ_sh L / L'Φ_A L)²,  ν from the fit alone,
 * because the shared part is known, not estimated (Welch–Satterthwaite, JCGM 100:2008, G.4.1, with infinite degrees of
 * freedom for it).
 */
export function totalContrast(
  { own, shared }: TotalInference,
  terms: readonly (readonly [number, number])[],
): TotalContrast {
  const { difference, se, df } = contrast(own, terms);
  let variance = 0;
  for (const [i, x] of terms)
    for (const [j, y] of terms) variance += x * y * (shared[i * own.m + j] as number);
  const sharedVariance = Math.max(0, variance);
  const ownVariance = se * se;
  return {
    difference,
    se: Math.sqrt(ownVariance + sharedVariance),
    df: ownVariance > 0 ? df * (1 + sharedVariance / ownVariance) ** 2 : df,
    sharedSe: Math.sqrt(sharedVariance),
  };
}

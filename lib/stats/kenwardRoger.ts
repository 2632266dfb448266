import { multiply } from '@/lib/numerics/cholesky';
import { COMPONENT_COUNT, COMPONENTS, pairIndex } from './accumulate';
import type { Derivatives } from './criterion';

/**
 * The Kenward–Roger covariance of the fixed effects for a V linear in its components:
 *   Φ_A = Φ + 2 Φ [Σ_jk W_jk (Q_jk − P_j Φ P_k)] Φ
 * with Φ = (X'V⁻¹X)⁻¹, P_j = −X'V⁻¹G_jV⁻¹X, Q_jk = X'V⁻¹G_jV⁻¹G_kV⁻¹X and W the inverse expected
 * information. Kenward M. G., Roger J. H. (1997), Biometrics 53, 983–997, eq. 3 with R_jk = 0.
 *
 * @param w inverse expected information, 4 × 4, zero rows for absent components
 */
export function adjustCovariance(
  phi: Float64Array,
  d: Derivatives,
  w: Float64Array,
  p: number,
): Float64Array {
  const bias = new Float64Array(p * p);
  const scaled = COMPONENTS.map((_, j) => multiply(d.first[j] as Float64Array, phi, p));
  for (let j = 0; j < COMPONENTS.length; j++) {
    for (let k = 0; k < COMPONENTS.length; k++) {
      const weight = w[j * COMPONENT_COUNT + k] as number;
      if (weight === 0) continue;
      const q = d.second[pairIndex(j, k)] as Float64Array;
      const product = multiply(scaled[j] as Float64Array, d.first[k] as Float64Array, p);
      for (let i = 0; i < p * p; i++) {
        bias[i] = (bias[i] as number) + weight * ((q[i] as number) - (product[i] as number));
      }
    }
  }
  const correction = multiply(multiply(phi, bias, p), phi, p);
  return phi.map((value, i) => value + 2 * (correction[i] as number));
}

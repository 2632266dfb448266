import { NotPositiveDefinite } from '@/lib/numerics/cholesky';
import { COMPONENT_COUNT, type Component } from './accumulate';
import { invertInformation } from './componentInformation';

/**
 * Satterthwaite's degrees of freedom for a one-dimensional contrast L'β:
 *   df = 2 (L'CL)² / (g' A g),  g_j = ∂(L'CL)/∂v_j,  A = asymptotic covariance of the variances.
 * Satterthwaite F. E. (1946), Biometrics Bulletin 2, 110; in mixed models Giesbrecht F. G., Burns J. C. (1985),
 * Biometrics 41, 477. Infinite when no variance is estimated.
 */
export function satterthwaiteDf(variance: number, gradient: readonly number[], a: Float64Array): number {
  let spread = 0;
  for (let j = 0; j < COMPONENT_COUNT; j++) {
    for (let k = 0; k < COMPONENT_COUNT; k++) {
      spread += (gradient[j] as number) * (gradient[k] as number) * (a[j * COMPONENT_COUNT + k] as number);
    }
  }
  return spread > 0 ? (2 * variance * variance) / spread : Number.POSITIVE_INFINITY;
}

/**
 * A = 2 H⁻¹ with H the observed Hessian of the deviance (half of it is `observed`); components on the
 * boundary are left out. Falls back on the expected information where H is not positive definite.
 */
export function covarianceOfVariances(
  observed: Float64Array,
  expected: Float64Array,
  interior: readonly Component[],
): Float64Array {
  if (interior.length === 0) return new Float64Array(COMPONENT_COUNT * COMPONENT_COUNT);
  try {
    return invertInformation(observed, interior);
  } catch (error) {
    if (!(error instanceof NotPositiveDefinite)) throw error;
    return invertInformation(expected, interior);
  }
}

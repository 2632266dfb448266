import gammaln from '@stdlib/math-base-special-gammaln';

/**
 * Nodes and weights for averages over s = √(χ²_df/df), whose density is
 *   f(s) = 2 (df/2)^(df/2) / Γ(df/2) · s^(df−1) exp(−df s²/2).
 * With s = e^y the integrand decays double-exponentially to the right and like e^(df·y) to the left, so the
 * plain trapezoidal rule in y converges geometrically (Trefethen L. N., Weideman J. A. C., 2014, SIAM Review 56, 385).
 */
export interface ChiScaleNodes {
  s: Float64Array;
  weight: Float64Array;
}

/** Log density below which a node cannot matter in double precision. */
const NEGLIGIBLE = -42;

/** @param df degrees of freedom, positive and finite; above 1e7 one node at s = 1 stands for all */
export function chiScaleNodes(df: number): ChiScaleNodes {
  if (!(df > 0)) throw new RangeError(`degrees of freedom must be positive, got ${df}`);
  if (df > 1e7) return { s: Float64Array.of(1), weight: Float64Array.of(1) };
  const constant = Math.LN2 + (df / 2) * Math.log(df / 2) - gammaln(df / 2);
  const logDensity = (y: number) => constant + df * y - (df / 2) * Math.exp(2 * y);
  const step = Math.min(0.06, 0.45 / Math.sqrt(2 * df));
  const s: number[] = [];
  const weight: number[] = [];
  // The density of y peaks at y = 0; walk out to both sides until it vanishes.
  const visit = (y: number): boolean => {
    const log = logDensity(y);
    if (log < NEGLIGIBLE) return false;
    s.push(Math.exp(y));
    weight.push(step * Math.exp(log));
    return true;
  };
  for (let i = 0; visit(i * step); i++);
  for (let i = -1; visit(i * step); i--);
  return { s: Float64Array.from(s), weight: Float64Array.from(weight) };
}

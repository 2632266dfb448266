import chiSquareCdf from '@stdlib/stats-base-dists-chisquare-cdf';
import chiSquareQuantile from '@stdlib/stats-base-dists-chisquare-quantile';
import fCdf from '@stdlib/stats-base-dists-f-cdf';
import fQuantile from '@stdlib/stats-base-dists-f-quantile';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import normalQuantile from '@stdlib/stats-base-dists-normal-quantile';
import tCdf from '@stdlib/stats-base-dists-t-cdf';
import tQuantile from '@stdlib/stats-base-dists-t-quantile';

/**
 * The probability distributions the room uses, over the @stdlib packages.
 * Small tails are always taken directly, by symmetry (t, normal) or through the reciprocal (F):
 * `1 - cdf` would lose every digit of a small p-value.
 */

/** Above this many degrees of freedom Student's t is the normal to 15 digits of its quantile. */
const NORMAL_DF = 1e10;

/** P(Z > z) of the standard normal. */
export function normalUpper(z: number): number {
  return normalCdf(-z, 0, 1);
}

/** P(Z ≤ z) of the standard normal. */
export function normalLower(z: number): number {
  return normalCdf(z, 0, 1);
}

/** Below this tail the package's quantile, which goes through 2p − 1, has lost digits. */
const FAR_TAIL = 1e-3;

/** The z with P(Z > z) = upper; in the far tail by Newton steps on the logarithm of the tail. */
export function normalUpperQuantile(upper: number): number {
  if (upper >= FAR_TAIL || !(upper > 0)) return -normalQuantile(upper, 0, 1);
  const target = Math.log(upper);
  let z = Math.sqrt(-2 * target);
  for (let i = 0; i < 20; i++) {
    const tail = normalUpper(z);
    const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
    const step = ((Math.log(tail) - target) * tail) / density;
    z += step;
    if (Math.abs(step) <= 1e-15 * z) break;
  }
  return z;
}

/** P(T > t) with `df` degrees of freedom. */
export function tUpper(t: number, df: number): number {
  return df > NORMAL_DF ? normalUpper(t) : tCdf(-t, df);
}

/** P(|T| > |t|) with `df` degrees of freedom. */
export function tTwoSided(t: number, df: number): number {
  return Math.min(1, 2 * tUpper(Math.abs(t), df));
}

/** The t with P(T > t) = upper; upper = 0.025 for a two-sided 95 % interval. */
export function tUpperQuantile(upper: number, df: number): number {
  return df > NORMAL_DF ? normalUpperQuantile(upper) : -tQuantile(upper, df);
}

/** P(F > f) with (df1, df2) degrees of freedom, as P(F' < 1/f) with the degrees swapped. */
export function fUpper(f: number, df1: number, df2: number): number {
  return f <= 0 ? 1 : fCdf(1 / f, df2, df1);
}

/** P(F ≤ f) with (df1, df2) degrees of freedom. */
export function fLower(f: number, df1: number, df2: number): number {
  return f <= 0 ? 0 : fCdf(f, df1, df2);
}

/** The f with P(F > f) = upper. */
export function fUpperQuantile(upper: number, df1: number, df2: number): number {
  return 1 / fQuantile(upper, df2, df1);
}

/** The f with P(F ≤ f) = lower. */
export function fLowerQuantile(lower: number, df1: number, df2: number): number {
  return fQuantile(lower, df1, df2);
}

/** P(χ² ≤ x). */
export function chiSquareLower(x: number, df: number): number {
  return chiSquareCdf(x, df);
}

/** The x with P(χ² ≤ x) = lower. */
export function chiSquareLowerQuantile(lower: number, df: number): number {
  return chiSquareQuantile(lower, df);
}

/**
 * P(χ² > x) for whole degrees of freedom, by the recurrence
 * Q(x; ν + 2) = Q(x; ν) + (x/2)^(ν/2) e^(−x/2) / Γ(ν/2 + 1), which keeps small tails exact.
 * Abramowitz M., Stegun I. A. (1964), 26.4.4–26.4.8.
 */
export function chiSquareUpper(x: number, df: number): number {
  if (!Number.isInteger(df) || df < 1) throw new RangeError(`whole degrees of freedom are needed, got ${df}`);
  if (x <= 0) return 1;
  let nu = df % 2 === 0 ? 2 : 1;
  let tail = nu === 2 ? Math.exp(-x / 2) : 2 * normalUpper(Math.sqrt(x));
  // The first term is e^(−x/2) (x/2)^(ν/2) / Γ(ν/2 + 1) at ν = 1 or 2; Γ(3/2) = √π/2, Γ(2) = 1.
  let term =
    nu === 2 ? Math.exp(-x / 2) * (x / 2) : (Math.exp(-x / 2) * Math.sqrt(x / 2)) / (Math.sqrt(Math.PI) / 2);
  for (; nu < df; nu += 2) {
    tail += term;
    term *= x / 2 / (nu / 2 + 1);
  }
  return Math.min(1, tail);
}

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

/** The z with P(Z > z) = upper. */
export function normalUpperQuantile(upper: number): number {
  return -normalQuantile(upper, 0, 1);
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

import { tTwoSided, tUpperQuantile } from '@/lib/numerics/distributions';
import { meanOf, squaresAboutMean } from './anova';

/** What two bare columns of numbers would have said, with neither car, session nor conditions. */
export interface WelchResult {
  difference: number;
  t: number;
  df: number;
  p: number;
  interval: [number, number];
}

/**
 * Welch's t for two samples of unequal variance. Welch B. L. (1947), Biometrika 34, 28.
 * Null where either side has fewer than two values or both have no spread.
 */
export function welchTest(x: readonly number[], y: readonly number[], level = 0.95): WelchResult | null {
  if (x.length < 2 || y.length < 2) return null;
  const sides = [x, y].map((values) => ({
    mean: meanOf(values),
    share: squaresAboutMean(values) / (values.length - 1) / values.length,
    df: values.length - 1,
  }));
  const [left, right] = sides as [(typeof sides)[0], (typeof sides)[0]];
  const variance = left.share + right.share;
  if (!(variance > 0)) return null;
  const difference = left.mean - right.mean;
  const df = variance ** 2 / (left.share ** 2 / left.df + right.share ** 2 / right.df);
  const se = Math.sqrt(variance);
  const half = tUpperQuantile((1 - level) / 2, df) * se;
  return {
    difference,
    t: difference / se,
    df,
    p: tTwoSided(difference / se, df),
    interval: [difference - half, difference + half],
  };
}

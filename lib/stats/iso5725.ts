import { fUpperQuantile, tUpperQuantile } from '@/lib/numerics/distributions';
import { oneWayAnova, squaresAboutMean } from './anova';

/**
 * Precision of a measurement method by ISO 5725-2:1994: cars are the laboratories, the runs of one session the
 * replicates. Basic method, one level.
 */
export interface LaboratoryCell {
  laboratory: string;
  values: readonly number[];
}

export interface Precision {
  laboratories: number;
  mean: number;
  /** Repeatability, between-laboratory and reproducibility standard deviations (7.4.5). */
  sr: number;
  sL: number;
  sR: number;
  /** n̄̄ of 7.4.5.4: the count that unequal cells amount to. */
  effectiveReplicates: number;
  /** Limits r = 2.8 s_r and R = 2.8 s_R (ISO 5725-6:1994, 4.1). */
  r: number;
  R: number;
}

/** Least number of laboratories for any statement about precision. */
export const LEAST_LABORATORIES = 3;

/**
 * s_r, s_L, s_R and the limits.
 *
 * @throws RangeError with fewer than two laboratories or no replicate
 */
export function precisionOf(cells: readonly LaboratoryCell[]): Precision {
  const anova = oneWayAnova(cells.map((cell) => cell.values));
  const squaredCounts = cells.reduce((sum, cell) => sum + cell.values.length ** 2, 0);
  const effectiveReplicates = (anova.n - squaredCounts / anova.n) / (cells.length - 1);
  const within = anova.withinMeanSquare;
  const between = Math.max(0, (anova.betweenMeanSquare - within) / effectiveReplicates);
  const sr = Math.sqrt(within);
  const sR = Math.sqrt(within + between);
  const mean = cells.reduce((sum, c, i) => sum + c.values.length * (anova.means[i] as number), 0) / anova.n;
  return {
    laboratories: cells.length,
    mean,
    sr,
    sL: Math.sqrt(between),
    sR,
    effectiveReplicates,
    r: 2.8 * sr,
    R: 2.8 * sR,
  };
}

export interface MandelStatistic {
  laboratory: string;
  /** Between-laboratory consistency; null with fewer than three laboratories. */
  h: number | null;
  /** Within-laboratory consistency; null for a cell of one value. */
  k: number | null;
}

/** Mandel's h and k = s_i √p / √Σs_j² of each laboratory (ISO 5725-2:1994, 7.3.1), which holds for unequal n too. */
export function mandelStatistics(cells: readonly LaboratoryCell[]): MandelStatistic[] {
  const means = cells.map((cell) => cell.values.reduce((sum, x) => sum + x, 0) / cell.values.length);
  const spread = Math.sqrt(squaresAboutMean(means) / (means.length - 1));
  const centre = means.reduce((sum, x) => sum + x, 0) / means.length;
  const variances = cells.map((cell) =>
    cell.values.length > 1 ? squaresAboutMean(cell.values) / (cell.values.length - 1) : null,
  );
  const replicated = variances.filter((variance) => variance !== null);
  const squares = replicated.reduce((sum, variance) => sum + variance, 0);
  return cells.map((cell, i) => {
    const variance = variances[i] ?? null;
    return {
      laboratory: cell.laboratory,
      h: cells.length >= LEAST_LABORATORIES && spread > 0 ? ((means[i] as number) - centre) / spread : null,
      k: variance === null || !(squares > 0) ? null : Math.sqrt((variance * replicated.length) / squares),
    };
  });
}

/**
 * Critical |h| for p laboratories: (p − 1) t / √(p (t² + p − 2)), t = t_{1−α/2, p−2}
 * (ISO 5725-2:1994, indicators of 8.3; the closed form of the tables).
 *
 * @param significance 0.05 for a straggler, 0.01 for an outlier
 */
export function criticalH(p: number, significance: number): number {
  const t = tUpperQuantile(significance / 2, p - 2);
  return ((p - 1) * t) / Math.sqrt(p * (t * t + p - 2));
}

/** Critical k for p laboratories of n values: √(p / (1 + (p − 1)/F)), F = F_{1−α}(n − 1, (p − 1)(n − 1)). */
export function criticalK(p: number, n: number, significance: number): number {
  const f = fUpperQuantile(significance, n - 1, (p - 1) * (n - 1));
  return Math.sqrt(p / (1 + (p - 1) / f));
}

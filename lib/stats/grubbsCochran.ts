import { fLowerQuantile, tUpperQuantile } from '@/lib/numerics/distributions';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import { squaresAboutMean } from './anova';
import type { LaboratoryCell } from './iso5725';

/**
 * Screening of cells by ISO 5725-2:1994, 7.3.3 (Cochran) and 7.3.4 (Grubbs). 5 % makes a straggler, shown to
 * whoever reviews; 1 % an outlier, sent to a person. Nothing is removed automatically.
 */
export type Verdict = 'consistent' | 'straggler' | 'outlier';

export interface ScreeningResult {
  statistic: number;
  critical5: number;
  critical1: number;
  verdict: Verdict;
  /** The cell the statistic points at. */
  laboratory: string;
}

function judge(statistic: number, critical5: number, critical1: number): Verdict {
  if (statistic > critical1) return 'outlier';
  return statistic > critical5 ? 'straggler' : 'consistent';
}

/**
 * Cochran's critical value for p cells of n values: C = 1/(1 + (p − 1) F) with F the lower α/p quantile of
 * F((p − 1)(n − 1), n − 1). Cochran W. G. (1941), Annals of Eugenics 11, 47.
 */
export function criticalCochran(p: number, n: number, significance: number): number {
  const f = fLowerQuantile(significance / p, (p - 1) * (n - 1), n - 1);
  return 1 / (1 + (p - 1) * f);
}

/**
 * Grubbs' critical value for one outlying cell mean among p, two-sided at α:
 * (p − 1)/√p · √(t²/(p − 2 + t²)), t = t_{1−α/2p, p−2}. Grubbs F. E. (1950), Ann. Math. Statistics 21, 27.
 */
export function criticalGrubbs(p: number, significance: number): number {
  const t = tUpperQuantile(significance / (2 * p), p - 2);
  return ((p - 1) / Math.sqrt(p)) * Math.sqrt((t * t) / (p - 2 + t * t));
}

/**
 * Cochran's test on the cell with the largest variance. Null for fewer than three cells or cells of one value.
 * For slightly unequal cells the commonest count is used, as the standard allows (7.3.3.3).
 */
export function cochranTest(cells: readonly LaboratoryCell[]): ScreeningResult | null {
  const replicated = cells.filter((cell) => cell.values.length > 1);
  if (replicated.length < 3) return null;
  const variances = replicated.map((cell) => squaresAboutMean(cell.values) / (cell.values.length - 1));
  const total = variances.reduce((sum, x) => sum + x, 0);
  if (!(total > 0)) return null;
  const at = variances.indexOf(Math.max(...variances));
  const n = commonest(replicated.map((cell) => cell.values.length));
  const statistic = (variances[at] as number) / total;
  const critical5 = criticalCochran(replicated.length, n, 0.05);
  const critical1 = criticalCochran(replicated.length, n, 0.01);
  return {
    statistic,
    critical5,
    critical1,
    verdict: judge(statistic, critical5, critical1),
    laboratory: (replicated[at] as LaboratoryCell).laboratory,
  };
}

function commonest(counts: readonly number[]): number {
  const tally = new Map<number, number>();
  for (const count of counts) tally.set(count, (tally.get(count) ?? 0) + 1);
  return [...tally].sort((x, y) => y[1] - x[1] || x[0] - y[0])[0]?.[0] as number;
}

/** Grubbs' test on the highest and the lowest cell mean. Null for fewer than three cells. */
export function grubbsTest(
  cells: readonly LaboratoryCell[],
): { high: ScreeningResult; low: ScreeningResult } | null {
  if (cells.length < 3) return null;
  const means = cells.map((cell) => cell.values.reduce((sum, x) => sum + x, 0) / cell.values.length);
  const spread = Math.sqrt(squaresAboutMean(means) / (means.length - 1));
  if (!(spread > 0)) return null;
  const centre = means.reduce((sum, x) => sum + x, 0) / means.length;
  const critical5 = criticalGrubbs(cells.length, 0.05);
  const critical1 = criticalGrubbs(cells.length, 0.01);
  const examine = (extreme: number): ScreeningResult => {
    const statistic = Math.abs(extreme - centre) / spread;
    return {
      statistic,
      critical5,
      critical1,
      verdict: judge(statistic, critical5, critical1),
      laboratory: (cells[means.indexOf(extreme)] as LaboratoryCell).laboratory,
    };
  };
  return { high: examine(Math.max(...means)), low: examine(Math.min(...means)) };
}

/**
 * Grubbs' statistic for the two highest (or two lowest) cell means: the squares left without the pair over all
 * squares; small is suspicious (7.3.4.2). Null for fewer than four cells.
 */
export function grubbsPairStatistic(means: readonly number[], side: 'high' | 'low'): number | null {
  if (means.length < 4) return null;
  const all = squaresAboutMean(means);
  if (!(all > 0)) return null;
  const sorted = [...means].sort((a, b) => a - b);
  return squaresAboutMean(side === 'high' ? sorted.slice(0, -2) : sorted.slice(2)) / all;
}

/** The share of normal samples of this size whose pair statistic is as small or smaller; seeded simulation. */
export function grubbsPairChance(statistic: number, p: number, seed: number, draws = 20_000): number {
  const random = createRandom(seed);
  let hits = 0;
  for (let i = 0; i < draws; i++) {
    const sample = Array.from({ length: p }, () => drawNormal(random));
    if ((grubbsPairStatistic(sample, 'high') as number) <= statistic) hits++;
  }
  return hits / draws;
}

import { normalUpperQuantile, tUpper } from '@/lib/numerics/distributions';

/** Chance of a smaller value: the probability integral transform of one standardised prediction. */
export function probabilityTransform(value: number, df: number): number {
  return value < 0 ? tUpper(-value, df) : 1 - tUpper(value, df);
}

/** Levels at which intervals are counted. */
export const COUNTED_LEVELS = [0.5, 0.8, 0.95] as const;

/** How often an interval of a level held. */
export interface CoverageCount {
  level: number;
  inside: number;
  of: number;
  /** 95 % interval of the share, widened for what predictions have in common. */
  low: number;
  high: number;
}

/**
 * Predictions of one class share cars and components, so their count scatters more than independent ones would: its
 * variance is taken as 1.4 times the binomial one (method C5).
 */
export const DEPENDENCE = 1.4;

/**
 * Interval of a share by its score, at n/1.4 in place of n. Wilson E. B. (1927), JASA 22, 209; the form that keeps
 * inside 0 and 1 and needs no least number. (0, 1) where nothing was counted.
 */
export function shareInterval(inside: number, of: number, level = 0.95): [number, number] {
  if (of === 0) return [0, 1];
  const n = of / DEPENDENCE;
  const share = inside / of;
  const z = normalUpperQuantile((1 - level) / 2);
  const square = (z * z) / n;
  const centre = (share + square / 2) / (1 + square);
  const half = (z * Math.sqrt((share * (1 - share)) / n + square / (4 * n))) / (1 + square);
  return [inside === 0 ? 0 : centre - half, inside === of ? 1 : centre + half];
}

/** Central intervals of each level, by transforms: u lies inside when |u − 1/2| is at most half the level. */
export function countCoverage(transforms: readonly number[]): CoverageCount[] {
  return COUNTED_LEVELS.map((level) => {
    const inside = transforms.filter((u) => Math.abs(u - 0.5) <= level / 2).length;
    const [low, high] = shareInterval(inside, transforms.length);
    return { level, inside, of: transforms.length, low, high };
  });
}

export const HISTOGRAM_BINS = 10;

/**
 * How many transforms fall into each tenth. Level bars where predictions are what they say; a hump where intervals are
 * too wide, a hollow where they are too narrow, a slope where they lie to one side. Gneiting T., Balabdaoui F.,
 * Raftery A. E. (2007), JRSS B 69, 243.
 */
export function histogramOf(transforms: readonly number[]): number[] {
  const bins = new Array<number>(HISTOGRAM_BINS).fill(0);
  for (const u of transforms) {
    const bin = Math.min(HISTOGRAM_BINS - 1, Math.floor(u * HISTOGRAM_BINS));
    bins[bin] = (bins[bin] as number) + 1;
  }
  return bins;
}

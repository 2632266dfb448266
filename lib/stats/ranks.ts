import { tUpperQuantile } from '@/lib/numerics/distributions';
import { chiScales, criticalValue, type Draws, type PairFamily } from './maxT';

/**
 * Rank confidence sets from simultaneous differences; rank 1 is the lowest consumption.
 * Mogstad M., Romano J. P., Shaikh A. M., Wilhelm D. (2024), Review of Economic Studies 91, 476;
 * the same idea with joint intervals: Klein M., Wright T., Wieczorek J. (2020), JRSS A 183, 589.
 */
export interface RankSet {
  lower: number;
  upper: number;
}

export interface SignedPair {
  a: number;
  b: number;
  /** effect[a] − effect[b]. */
  difference: number;
  se: number;
}

function familyOf(pairs: readonly SignedPair[]): PairFamily {
  return {
    a: Int32Array.from(pairs, (p) => p.a),
    b: Int32Array.from(pairs, (p) => p.b),
    se: Float64Array.from(pairs, (p) => p.se),
  };
}

/**
 * Pairs declared different by the step-down max-t procedure (Romano J. P., Wolf M., 2005, JASA 100, 94). Pairs
 * beyond Bonferroni's bound, which no max-t critical value exceeds, are rejected in any first step; leaving them
 * out from the start comes to the same final set and spares the simulation most of its work.
 */
export function stepDownRejections(
  draws: Draws,
  pairs: readonly SignedPair[],
  df: number,
  level: number,
): boolean[] {
  const family = familyOf(pairs);
  const bonferroni = tUpperQuantile((1 - level) / (2 * Math.max(1, pairs.length)), df);
  const rejected = pairs.map((pair) => Math.abs(pair.difference) > bonferroni * pair.se);
  for (;;) {
    const open = (i: number) => !(rejected[i] ?? false);
    if (!pairs.some((_, i) => open(i))) return rejected;
    const critical = criticalValue(draws, family, df, level, open).value;
    let changed = false;
    pairs.forEach((pair, i) => {
      if (open(i) && Math.abs(pair.difference) > critical * pair.se) {
        rejected[i] = true;
        changed = true;
      }
    });
    if (!changed) return rejected;
  }
}

/**
 * lower = 1 + how many are significantly lower, upper = ranked − how many are significantly higher, for each
 * index that occurs in `items`.
 */
export function rankSets(
  items: readonly number[],
  pairs: readonly SignedPair[],
  rejected: readonly boolean[],
): Map<number, RankSet> {
  const sets = new Map(items.map((item) => [item, { lower: 1, upper: items.length }]));
  pairs.forEach((pair, i) => {
    if (!rejected[i]) return;
    const better = sets.get(pair.difference < 0 ? pair.a : pair.b);
    const worse = sets.get(pair.difference < 0 ? pair.b : pair.a);
    if (better !== undefined) better.upper--;
    if (worse !== undefined) worse.lower++;
  });
  return sets;
}

/** The rank set of one item alone, from the pairs with it only. */
export function marginalRankSet(
  item: number,
  items: readonly number[],
  draws: Draws,
  pairs: readonly SignedPair[],
  df: number,
  level: number,
): RankSet {
  const own = pairs.filter((pair) => pair.a === item || pair.b === item);
  const rejected = stepDownRejections(draws, own, df, level);
  return rankSets(items, own, rejected).get(item) as RankSet;
}

/**
 * The share of draws from the fitted multivariate t in which each item is lowest. A plug-in figure under
 * the fitted model, to be shown as "simulated chance of being lowest", never as proof.
 */
export function chancesOfLowest(
  items: readonly number[],
  effects: ArrayLike<number>,
  draws: Draws,
  df: number,
): number[] {
  const scales = chiScales(draws, df);
  const wins = new Float64Array(items.length);
  for (let row = 0; row < draws.count; row++) {
    const stretch = 1 / (scales[row] as number);
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < items.length; i++) {
      const k = items[i] as number;
      const value = (effects[k] as number) + (draws.values[row * draws.m + k] as number) * stretch;
      if (value < least) {
        least = value;
        best = i;
      }
    }
    wins[best] = (wins[best] as number) + 1;
  }
  return Array.from(wins, (count) => count / draws.count);
}

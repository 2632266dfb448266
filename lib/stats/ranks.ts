import { chiScales, type Draws } from './maxT';

/**
 * Rank confidence sets from simultaneous differences; rank 1 is the lowest consumption.
 * Mogstad M., Romano J. P., Shaikh A. M., Wilhelm D. (2024), Review of Economic Studies 91, 476;
 * the same idea with joint intervals: Klein M., Wright T., Wieczorek J. (2020), JRSS A 183, 589. The single-step
 * differences of the class's family are used, so that ranks, bars and words agree.
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
}

/**
 * lower = 1 + how many are settled to be lower, upper = ranked − how many are settled to be higher, for each
 * index that occurs in `items`.
 */
export function rankSets(items: readonly number[], settled: readonly SignedPair[]): Map<number, RankSet> {
  const sets = new Map(items.map((item) => [item, { lower: 1, upper: items.length }]));
  for (const { a, b, difference } of settled) {
    const [better, worse] = difference < 0 ? [sets.get(a), sets.get(b)] : [sets.get(b), sets.get(a)];
    if (better === undefined || worse === undefined) continue;
    better.upper--;
    worse.lower++;
  }
  return sets;
}

/**
 * For each item the share of draws from the fitted multivariate t in which it is lowest of those it may be compared
 * with; a pair that is refused never meets. A plug-in figure under the fitted model, to be shown as "simulated chance
 * of being lowest", never as proof. Where every pair may be compared the shares add up to 1.
 */
export function chancesOfLowest(
  items: readonly number[],
  effects: ArrayLike<number>,
  draws: Draws,
  df: number,
  mayCompare: (a: number, b: number) => boolean,
): number[] {
  const scales = chiScales(draws, df);
  const wins = new Float64Array(items.length);
  const rivals = items.map((a) => items.flatMap((b, j) => (a !== b && mayCompare(a, b) ? [j] : [])));
  const drawn = new Float64Array(items.length);
  for (let row = 0; row < draws.count; row++) {
    const stretch = 1 / (scales[row] as number);
    for (let i = 0; i < items.length; i++) {
      const k = items[i] as number;
      drawn[i] = (effects[k] as number) + (draws.values[row * draws.m + k] as number) * stretch;
    }
    for (let i = 0; i < items.length; i++) {
      const own = drawn[i] as number;
      if ((rivals[i] as number[]).every((j) => own < (drawn[j] as number))) wins[i] = (wins[i] as number) + 1;
    }
  }
  return Array.from(wins, (count) => count / draws.count);
}

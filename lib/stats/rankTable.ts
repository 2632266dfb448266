import type { ContrastTable } from './contrasts';
import type { Estimate, Rank } from './groupFit';
import type { Draws } from './maxT';
import { chancesOfLowest, rankSets } from './ranks';

/**
 * Rank sets and chances of the ranked setups, lowest estimate first. One that rests on one cluster of testers has no
 * place, and the others are counted without it.
 */
export function tabulateRanks(
  estimates: readonly Estimate[],
  { contrasts, pairs }: ContrastTable,
  draws: Draws | null,
): Rank[] {
  const items = estimates
    .map((estimate, index) => ({ estimate, index }))
    .filter(({ estimate }) => estimate.ranked && estimate.restsOn.length === 0)
    .sort((x, y) => x.estimate.beta - y.estimate.beta)
    .map(({ index }) => index);
  if (items.length === 0) return [];
  const isRanked = new Set(items);
  const places = new Map(estimates.map((estimate, index) => [estimate.setup, index]));
  const settled = contrasts.flatMap(({ a, b, word, difference }) =>
    word === 'settled' && difference !== null
      ? [{ a: places.get(a) as number, b: places.get(b) as number, difference }]
      : [],
  );
  const sets = rankSets(
    items,
    settled.filter(({ a, b }) => isRanked.has(a) && isRanked.has(b)),
  );
  const compared = pairs.filter((pair) => isRanked.has(pair.a) && isRanked.has(pair.b));
  const met = new Set(compared.flatMap(({ a, b }) => [`${a} ${b}`, `${b} ${a}`]));
  const mayCompare = (a: number, b: number) => met.has(`${a} ${b}`);
  const df = compared.reduce((least, pair) => Math.min(least, pair.df), Number.POSITIVE_INFINITY);
  const betas = estimates.map((e) => e.beta);
  const chances = draws === null ? null : chancesOfLowest(items, betas, draws, df, mayCompare);
  return items.map((index, i) => ({
    setup: (estimates[index] as Estimate).setup,
    ...(sets.get(index) ?? { lower: 1, upper: items.length }),
    chanceOfLowest: chances?.[i] ?? null,
    comparable: 1 + items.filter((other) => other !== index && mayCompare(index, other)).length,
    without: null,
  }));
}

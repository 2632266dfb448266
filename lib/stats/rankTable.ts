import type { ComparedPair, ContrastTable } from './contrasts';
import type { Estimate, Rank } from './groupFit';
import { groupLetter, inseparableGroups } from './inseparable';
import type { Draws } from './maxT';
import { chancesOfLowest, marginalRankSet, rankSets, stepDownRejections } from './ranks';

/** Rank sets, chances and inseparable groups of the ranked setups, lowest estimate first. */
export function tabulateRanks(
  estimates: readonly Estimate[],
  table: ContrastTable,
  draws: Draws | null,
  level: number,
): Rank[] {
  const items = estimates
    .map((estimate, index) => ({ estimate, index }))
    .filter(({ estimate }) => estimate.ranked)
    .sort((x, y) => x.estimate.beta - y.estimate.beta)
    .map(({ index }) => index);
  if (items.length === 0) return [];
  const isRanked = new Set(items);
  const pairs: ComparedPair[] = table.family.filter((pair) => isRanked.has(pair.a) && isRanked.has(pair.b));
  const df = pairs.reduce((least, pair) => Math.min(least, pair.df), Number.POSITIVE_INFINITY);
  const rejected =
    draws === null
      ? pairs.map((pair) => Math.abs(pair.difference) > (table.critical?.value ?? Infinity) * pair.se)
      : stepDownRejections(draws, pairs, df, level);
  const sets = rankSets(items, pairs, rejected);
  const chances =
    draws === null
      ? items.map(() => null)
      : chancesOfLowest(
          items,
          estimates.map((e) => e.beta),
          draws,
          df,
        );
  const apart = new Set(pairs.filter((_, i) => rejected[i]).map((pair) => `${pair.a} ${pair.b}`));
  const inseparable = (i: number, j: number) => {
    const [a, b] = [items[i] as number, items[j] as number].sort((x, y) => x - y);
    return !apart.has(`${a} ${b}`);
  };
  const groups = inseparableGroups(items.length, inseparable);
  return items.map((index, i) => {
    const joint = sets.get(index) ?? { lower: 1, upper: items.length };
    return {
      setup: (estimates[index] as Estimate).setup,
      lower: joint.lower,
      upper: joint.upper,
      marginal: draws === null ? joint : marginalRankSet(index, items, draws, pairs, df, level),
      chanceOfLowest: chances[i] as number | null,
      group: (groups ?? []).flatMap((members, g) => (members.includes(i) ? [groupLetter(g)] : [])).join(' '),
      inseparableFrom: items
        .filter((_, j) => j !== i && inseparable(i, j))
        .map((k) => (estimates[k] as Estimate).setup),
    };
  });
}

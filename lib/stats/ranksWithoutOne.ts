import { type Clusters, type HeldPair, heldPair } from './clusterInfluence';
import { wordFor } from './evidence';
import type { Contrast, Rank } from './groupFit';
import { type RankSet, rankSets } from './ranks';

/** Where a setup would stand without one cluster of testers. */
export interface RankWithoutOne extends RankSet {
  cluster: string;
}

interface Judged {
  pair: HeldPair;
  at: readonly [a: number, b: number];
  isSettled: boolean;
  restsOn: readonly string[];
}

/**
 * What each rank set would be without each cluster in turn, and of those that differ the one that differs most (method
 * B13). Components and critical values are held. A difference that rests on another cluster stays unsettled; those that
 * the cluster is not near keep their word.
 */
export function ranksWithoutOne(
  ranks: readonly Rank[],
  contrasts: readonly Contrast[],
  clusters: Clusters,
): Map<string, RankWithoutOne> {
  const places = new Map(ranks.map(({ setup }, i) => [setup, i]));
  const judged = contrasts.flatMap((contrast): Judged[] => {
    const [a, b] = [places.get(contrast.a), places.get(contrast.b)];
    const pair = heldPair(contrast);
    if (a === undefined || b === undefined || pair === undefined) return [];
    return [{ pair, at: [a, b], isSettled: contrast.word === 'settled', restsOn: contrast.restsOn }];
  });
  const items = ranks.map((_, i) => i);
  const found = new Map<string, RankWithoutOne & { moved: number }>();
  for (const cluster of clusters.names()) {
    const setups = clusters.setupsNear(cluster);
    const near = judged.filter(({ pair }) => setups.has(pair.a) || setups.has(pair.b));
    if (near.length === 0) continue;
    const settled = judged.flatMap((one) => {
      const isNear = setups.has(one.pair.a) || setups.has(one.pair.b);
      const difference = isNear
        ? differenceWithout(one, cluster, clusters)
        : one.isSettled
          ? one.pair.difference
          : 0;
      return difference === 0 ? [] : [{ a: one.at[0], b: one.at[1], difference }];
    });
    for (const [i, { lower, upper }] of rankSets(items, settled)) {
      const rank = ranks[i] as Rank;
      const moved = Math.abs(lower - rank.lower) + Math.abs(upper - rank.upper);
      if (moved > (found.get(rank.setup)?.moved ?? 0))
        found.set(rank.setup, { cluster, lower, upper, moved });
    }
  }
  return new Map([...found].map(([setup, { moved: _, ...rank }]) => [setup, rank]));
}

/** The difference as it would be settled without the cluster, 0 where it would not be. */
function differenceWithout({ pair, restsOn }: Judged, cluster: string, clusters: Clusters): number {
  if (restsOn.some((other) => other !== cluster)) return 0;
  const interval = clusters.intervalWithout(pair, cluster);
  if (interval === null || wordFor(interval, null, interval) !== 'settled') return 0;
  return (interval[0] + interval[1]) / 2;
}

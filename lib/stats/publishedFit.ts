import type { FitOptions, GroupFit, MinimumCounts, PooledCarLoop } from './groupFit';
import type { RunColumns } from './runColumns';
import type { SetupTally } from './tallySetups';
import { clusterTesters, type Tie } from './testerClusters';

/**
 * What a fit was made with beside its runs, as it stood then: with the runs and the version of the method it says the
 * fit to the last digit.
 */
export interface FitBasis {
  minimumCounts: MinimumCounts;
  pooledCarLoop: PooledCarLoop | null;
  /** Testers that count as one, in order of their names; each holds two or more, one of them of the class. */
  clusters: readonly (readonly string[])[];
  /** Testers of the class whom nobody vouches for. */
  unvouched: readonly string[];
}

/** The basis of a fit that is about to be made, from what is known of the testers of its world. */
export function fitBasis(
  { tester }: Pick<RunColumns, 'tester'>,
  known: { ties: readonly Tie[]; isVouched: (tester: string) => boolean },
  given: { minimumCounts: MinimumCounts; pooledCarLoop?: PooledCarLoop },
): FitBasis {
  const driven = new Set(tester.names);
  const members = new Map<string, string[]>();
  for (const [name, cluster] of clusterTesters([], known.ties))
    members.set(cluster, [...(members.get(cluster) ?? []), name]);
  return {
    minimumCounts: given.minimumCounts,
    pooledCarLoop: given.pooledCarLoop ?? null,
    clusters: [...members.values()].filter((names) => names.some((name) => driven.has(name))),
    unvouched: [...driven].filter((name) => !known.isVouched(name)).sort(),
  };
}

/** As a fit takes it; the priors are the method's. */
export function optionsOf(
  { minimumCounts, pooledCarLoop, clusters, unvouched }: FitBasis,
  { priors, seed }: Required<Pick<FitOptions, 'priors' | 'seed'>>,
): FitOptions {
  const strangers = new Set(unvouched);
  return {
    priors,
    seed,
    minimumCounts,
    ...(pooledCarLoop === null ? {} : { pooledCarLoop }),
    ties: tiesOf(clusters),
    isVouched: (tester) => !strangers.has(tester),
  };
}

function tiesOf(clusters: FitBasis['clusters']): Tie[] {
  return clusters.flatMap(([first = '', ...others]) => others.map((other) => [first, other] as const));
}

/** Testers of each cluster, by the name that the fit gives it. */
function membersOf({ tester }: Pick<RunColumns, 'tester'>, { clusters }: FitBasis) {
  const driven = new Set(tester.names);
  const clusterOf = clusterTesters(driven, tiesOf(clusters));
  return (cluster: string): string[] => {
    const name = clusterOf.get(cluster) ?? cluster;
    return [...driven].filter((one) => clusterOf.get(one) === name).sort();
  };
}

export type EstimateRow = ReturnType<typeof estimateRows>[number];

/** The estimates as they are published, one a setup. */
export function estimateRows(
  fit: GroupFit,
  runs: Pick<RunColumns, 'tester'>,
  tallies: ReadonlyMap<string, SetupTally>,
  basis: FitBasis,
) {
  const membersOfCluster = membersOf(runs, basis);
  const components = new Map(
    fit.connectivity.byCar.flatMap((setups, index) => setups.map((setup) => [setup, index])),
  );
  const ranks = new Map(fit.ranks.map((rank) => [rank.setup, rank]));
  return fit.estimates.map((estimate) => {
    const tally = tallies.get(estimate.setup);
    if (tally === undefined) throw new Error(`the fit names a setup that has no runs: ${estimate.setup}`);
    const rank = ranks.get(estimate.setup);
    const expected = estimate.expectedVariation;
    const ends =
      estimate.interval95 ??
      (expected === null ? null : [estimate.beta - expected.halfWidth, estimate.beta + expected.halfWidth]);
    return {
      setupId: estimate.setup,
      runs: estimate.n,
      cars: estimate.cars,
      testers: tally.testers,
      loops: tally.loops,
      days: tally.days,
      sessions: estimate.sessions,
      logMean: estimate.beta,
      logSe: estimate.se,
      dof: estimate.df,
      estimateWhPerKm: Math.exp(estimate.beta),
      lowWhPerKm: ends === null ? null : Math.exp(ends[0] as number),
      highWhPerKm: ends === null ? null : Math.exp(ends[1] as number),
      intervalKind: estimate.interval95 !== null ? 'model' : expected !== null ? 'expectedVariation' : 'none',
      rawMeanWhPerKm: tally.rawMeanWhPerKm,
      isRanked: estimate.ranked,
      label: estimate.label,
      missing: estimate.missing,
      rankLower: rank?.lower ?? null,
      rankUpper: rank?.upper ?? null,
      chanceOfLowest: rank?.chanceOfLowest ?? null,
      component: components.get(estimate.setup) ?? 0,
      details: {
        expectedVariation: expected,
        comparable: rank?.comparable ?? null,
        restsOn: estimate.restsOn.flatMap(membersOfCluster),
        without:
          rank === undefined || rank.without === null
            ? null
            : {
                testers: membersOfCluster(rank.without.cluster),
                lower: rank.without.lower,
                upper: rank.without.upper,
              },
      },
    };
  });
}

export type ContrastRow = ReturnType<typeof contrastRows>[number];

/** The differences of all pairs as they are published. */
export function contrastRows(fit: GroupFit) {
  return fit.contrasts.map((contrast) => ({
    setupAId: contrast.a,
    setupBId: contrast.b,
    kind: contrast.kind,
    chainLength: contrast.chainLength,
    differenceLog: contrast.difference,
    logSe: contrast.se,
    dof: contrast.df,
    lowLog: contrast.interval95?.[0] ?? null,
    highLog: contrast.interval95?.[1] ?? null,
    simultaneousLowLog: contrast.simultaneous?.[0] ?? null,
    simultaneousHighLog: contrast.simultaneous?.[1] ?? null,
    modelLowLog: contrast.modelInterval?.[0] ?? null,
    modelHighLog: contrast.modelInterval?.[1] ?? null,
    word: contrast.word,
    sharedULog: contrast.sharedSe,
    reason: contrast.reason,
    details: contrast.restsOn.length === 0 ? {} : { restsOn: contrast.restsOn },
  }));
}

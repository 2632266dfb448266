import { runParts } from '@/lib/reduction/runParts';
import { readReduction } from '@/lib/reduction/storedReduction';
import type { ComparisonGroupRef } from '@/lib/run/comparisonGroup';
import { dateText } from '@/lib/run/localDate';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow, GroupFit, MinimumCounts } from '@/lib/stats/groupFit';
import { DEFAULT_COMPONENT_PRIORS } from '@/lib/stats/moderation';
import { needsPooledCarLoop } from '@/lib/stats/pooling';
import { type SetupTally, tallySetups } from '@/lib/stats/tallySetups';
import { type ApprovedResult, approvedResults, findOrInsertGroup, publishFit } from '@/lib/store/fits';
import type { Prisma } from '@/prisma/generated/client';
import { labelInEffect } from '../method/methodInEffect';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import type { FitSummary } from './fitSummary';
import { poolWorld } from './worldPool';

/** One seed for all published fits: anyone who fits the same rows gets the same digits. */
const FIT_SEED = 20_261;

interface UsedResult {
  run: ApprovedResult;
  measuredWhPerKm: number;
  row: FitRow;
}

/**
 * Fits one comparison group anew from its approved runs and publishes the result. Runs without a normalised number
 * (outside the method's reach) are counted and left out.
 */
export async function refitGroup(registry: Registry, group: ComparisonGroupRef): Promise<GroupFit> {
  const startedAt = performance.now();
  // The time of reading, not of publishing: a run approved in between is newer than the fit.
  const fittedAt = registry.now();
  const groupId = await registry.db.$transaction((tx) => findOrInsertGroup(tx, group));
  const methodVersion = await labelInEffect(registry.db, group.world);
  const runs = await approvedResults(registry.db, group, methodVersion);
  const used = runs.flatMap(usedResult);
  const protocol = await activeProtocol(registry);
  const rows = used.map((result) => result.row);
  const usesPooled = needsPooledCarLoop(rows);
  const pooledCarLoop = usesPooled ? await poolWorld(registry, group.world) : undefined;
  const fit = fitGroup(rows, {
    seed: FIT_SEED,
    minimumCounts: minimumCounts(protocol.parameters.ranking),
    priors: DEFAULT_COMPONENT_PRIORS,
    ...(pooledCarLoop === undefined ? {} : { pooledCarLoop }),
  });
  const tallies = tallySetups(
    used.map(({ run, measuredWhPerKm, row }) => ({
      setupId: row.setup,
      testerId: run.testerId,
      carId: row.car,
      loopId: run.loopId ?? '',
      day: dateText(run.session?.localDate),
      measuredWhPerKm,
    })),
  );
  await registry.db.$transaction((tx) =>
    publishFit(tx, {
      groupId,
      methodVersion,
      fittedAt,
      runCount: fit.nUsed,
      converged: fit.converged,
      seed: fit.seed,
      durationMs: performance.now() - startedAt,
      summary: summaryOf(fit, { notNormalised: runs.length - used.length, usesPooled }),
      estimates: estimateRows(fit, tallies),
      contrasts: contrastRows(fit),
    }),
  );
  return fit;
}

function usedResult(run: ApprovedResult): UsedResult[] {
  const revision = run.revisions.find((candidate) => candidate.number === run.approvedRevision);
  const result = revision?.normalisations[0];
  if (!result?.isNormalised || result.normalisedWhPerKm === null || result.uRunRelative === null) return [];
  if (run.setupId === null || run.carId === null || run.sessionId === null || run.loopId === null) return [];
  const owners = {
    sessionId: run.sessionId,
    carId: run.carId,
    loopId: run.loopId,
    modelId: run.setup?.modelId ?? '',
  };
  return [
    {
      run,
      measuredWhPerKm: result.measuredWhPerKm,
      row: {
        runId: run.id,
        setup: run.setupId,
        model: owners.modelId,
        car: run.carId,
        session: run.sessionId,
        loop: run.loopId,
        z: Math.log(result.normalisedWhPerKm),
        u: result.uRunRelative,
        shared: runParts(owners, readReduction(result.result).normalisation).map((part) => ({
          key: `${part.input} of ${part.key}`,
          scope: part.scope,
          contribution: part.contribution,
        })),
      },
    },
  ];
}

/** The protocol's counts as the fit wants them; cars are only asked for across models. */
function minimumCounts(ranking: { runs: number; sessions: number; carsAcrossModels: number }): MinimumCounts {
  return { runs: ranking.runs, sessions: ranking.sessions, cars: ranking.carsAcrossModels };
}

function summaryOf(
  fit: GroupFit,
  about: Pick<FitSummary, 'notNormalised' | 'usesPooled'>,
): Prisma.InputJsonObject {
  const { estimates: _estimates, contrasts: _contrasts, ranks: _ranks, excluded, ...rest } = fit;
  const summary: FitSummary = {
    ...rest,
    excluded: excluded.map(({ row, reason }) => ({ runId: row.runId, reason })),
    ...about,
  };
  // Through JSON, so that what is stored is what a reader of the column gets.
  return JSON.parse(JSON.stringify(summary)) as Prisma.InputJsonObject;
}

function estimateRows(fit: GroupFit, tallies: Map<string, SetupTally>) {
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
      details: { expectedVariation: expected, comparable: rank?.comparable ?? null },
    };
  });
}

function contrastRows(fit: GroupFit) {
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
  }));
}

import type { ComparisonGroupRef } from '@/lib/run/comparisonGroup';
import { dateText } from '@/lib/run/localDate';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow, GroupFit, MinimumCounts } from '@/lib/stats/groupFit';
import { needsPooledComponents } from '@/lib/stats/pooling';
import {
  type SharedUncertainty,
  type SharingRun,
  sharedUncertainties,
} from '@/lib/stats/sharedUncertainties';
import { type SetupTally, type TalliedRun, tallySetups } from '@/lib/stats/tallySetups';
import { countedRunsWithParts } from '@/lib/store/countedRuns';
import { findOrInsertGroup, publishFit } from '@/lib/store/fits';
import type { Prisma } from '@/prisma/generated/client';
import { shownLabel } from '../counted/countedLabel';
import { readParts } from '../counted/countedRow';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { poolWorld } from './worldPool';

/** One seed for all published fits: anyone who fits the same rows gets the same digits. */
const FIT_SEED = 20_261;

/**
 * Fits one comparison group anew from its counted runs and publishes the result. Runs without a normalised number
 * (outside the method's reach) are counted and left out. Nothing is locked while it reads and computes: the transaction
 * begins with the first row that is written.
 */
export async function refitGroup(registry: Registry, group: ComparisonGroupRef): Promise<GroupFit> {
  const startedAt = performance.now();
  // The time of reading, not of publishing: a run approved in between is newer than the fit.
  const fittedAt = registry.now();
  const groupId = await registry.db.$transaction((tx) => findOrInsertGroup(tx, group));
  const methodVersion = await shownLabel(registry.db, group.world);
  const { rows, sharing, tallied, modelOfSetup, notNormalised } = await readGroup(registry, {
    ...group,
    methodVersion,
  });
  const protocol = await activeProtocol(registry);
  const isTooSmall = needsPooledComponents(rows);
  const fit = fitGroup(rows, {
    seed: FIT_SEED,
    modelOf: (setup) => modelOfSetup.get(setup) ?? '',
    minimumCounts: minimumCounts(protocol.parameters.ranking),
    pooledComponents: isTooSmall ? await poolWorld(registry, group.world, methodVersion) : undefined,
  });
  const tallies = tallySetups(tallied);
  const estimates = estimateRows(fit, tallies);
  const contrasts = contrastRows(fit, sharedUncertainties(sharing));
  await registry.db.$transaction((tx) =>
    publishFit(tx, {
      groupId,
      methodVersion,
      fittedAt,
      runCount: fit.nUsed,
      converged: fit.converged,
      seed: fit.seed,
      durationMs: performance.now() - startedAt,
      summary: summaryOf(fit, { notNormalised, isTooSmall }),
      estimates,
      contrasts,
    }),
  );
  return fit;
}

/** What a fit is made from, read through a cursor. */
async function readGroup(registry: Registry, group: ComparisonGroupRef & { methodVersion: string }) {
  const rows: FitRow[] = [];
  const sharing: SharingRun[] = [];
  const tallied: TalliedRun[] = [];
  const modelOfSetup = new Map<string, string>();
  let notNormalised = 0;
  for await (const run of countedRunsWithParts(registry.db, group)) {
    const { runId, setupId, carId, sessionId, loopId, testerId, z, u, measuredWhPerKm } = run;
    if (z === null || u === null || measuredWhPerKm === null) {
      notNormalised += 1;
      continue;
    }
    modelOfSetup.set(setupId, run.modelId);
    rows.push({ runId, setup: setupId, car: carId, session: sessionId, loop: loopId, z, u });
    sharing.push({ setupId, sessionId, carId, loopId, parts: readParts(run.parts) });
    tallied.push({
      setupId,
      testerId,
      carId,
      loopId,
      day: dateText(run.day),
      measuredWhPerKm,
    });
  }
  return { rows, sharing, tallied, modelOfSetup, notNormalised };
}

/** The protocol's counts as the fit wants them; cars are only asked for across models. */
function minimumCounts(ranking: { runs: number; sessions: number; carsAcrossModels: number }): MinimumCounts {
  return { runs: ranking.runs, sessions: ranking.sessions, cars: ranking.carsAcrossModels };
}

/** The part of a fit that belongs to the group as a whole. */
export type FitSummary = Omit<GroupFit, 'estimates' | 'contrasts' | 'ranks' | 'excluded'> & {
  excluded: { runId: string | undefined; reason: string }[];
  /** Approved, but outside the method's reach. */
  notNormalised: number;
  /** For components of its own: it uses pooled ones where there are any, and hangs on other classes' runs. */
  isTooSmall: boolean;
};

function summaryOf(
  fit: GroupFit,
  about: Pick<FitSummary, 'notNormalised' | 'isTooSmall'>,
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
    const typical = estimate.typicalRepeatability;
    const interval =
      estimate.interval95 ??
      (typical === null ? null : [estimate.beta - typical.halfWidth, estimate.beta + typical.halfWidth]);
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
      lowWhPerKm: interval === null ? null : Math.exp(interval[0] as number),
      highWhPerKm: interval === null ? null : Math.exp(interval[1] as number),
      intervalKind:
        estimate.interval95 !== null ? 'model' : typical !== null ? 'typicalRepeatability' : 'none',
      rawMeanWhPerKm: tally.rawMeanWhPerKm,
      isRanked: estimate.ranked,
      label: estimate.label,
      missing: estimate.missing,
      rankLower: rank?.lower ?? null,
      rankUpper: rank?.upper ?? null,
      chanceOfLowest: rank?.chanceOfLowest ?? null,
      groupLetters: rank?.group ?? null,
      component: components.get(estimate.setup) ?? 0,
      details: {
        typicalRepeatability: typical,
        inseparableFrom: rank?.inseparableFrom ?? [],
      },
    };
  });
}

function contrastRows(fit: GroupFit, sharedU: SharedUncertainty) {
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
    pHolm: contrast.pHolm,
    isSeparable: contrast.separable,
    sharedULog: contrast.kind === 'none' ? null : sharedU(contrast.a, contrast.b, contrast.kind),
    reason: contrast.reason,
  }));
}

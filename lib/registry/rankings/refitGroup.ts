import { sharedContributions } from '@/lib/reduction/runParts';
import { type ComparisonGroupRef, comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { dateText } from '@/lib/run/localDate';
import { countedDay } from '@/lib/run/publishedDay';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { GroupFit } from '@/lib/stats/groupFit';
import { standModels } from '@/lib/stats/modelStanding';
import { needsPooledCarLoop } from '@/lib/stats/pooling';
import { contrastRows, estimateRows, fitBasis, optionsOf } from '@/lib/stats/publishedFit';
import { RunColumnsBuilder } from '@/lib/stats/runColumns';
import type { FitSummary } from '@/lib/stats/stored';
import { SetupTallies } from '@/lib/stats/tallySetups';
import { countCounted, countedRunsWithParts } from '@/lib/store/countedRuns';
import { storeStandings } from '@/lib/store/fitStandings';
import { findOrInsertGroup, publishFit } from '@/lib/store/fits';
import { enqueueJob } from '@/lib/store/jobs';
import { shownLabel } from '../counted/countedLabel';
import { FACTORS_JOB } from '../factors/concludeFactors';
import { CHECK_JOB } from '../holds/checkFit';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { fitOptionsOf } from './fitOptions';
import { knownTesters } from './testerTies';

/** What is said of single runs is a row each: some seconds per hundred thousand. */
const PATIENT = { timeout: 120_000 };

/** One seed for all published fits: anyone who fits the same rows gets the same digits. */
const FIT_SEED = 20_261;

/**
 * Fits one comparison group anew from its counted runs and publishes the result. Runs without a normalised number
 * (outside the method's reach) are counted and left out. Nothing is locked while it reads and computes: the transaction
 * begins with the first row that is written.
 */
export async function refitGroup(
  registry: Registry,
  group: ComparisonGroupRef,
  report: (done: number, of: number) => void = () => undefined,
): Promise<GroupFit> {
  const startedAt = performance.now();
  // The time of reading, not of publishing: a run approved in between is newer than the fit.
  const fittedAt = registry.now();
  const groupId = await registry.db.$transaction((tx) => findOrInsertGroup(tx, group));
  const methodVersion = await shownLabel(registry.db, group.world);
  const counted = await countCounted(registry.db, { ...group, methodVersion });
  const { runs, dates, tallies, notNormalised, unreadable } = await readGroup(
    registry,
    { ...group, methodVersion },
    (done) => report(done, counted),
  );
  const protocol = await activeProtocol(registry);
  const usesPooled = needsPooledCarLoop(runs);
  const given = await fitOptionsOf(registry, { world: group.world, methodVersion, usesPooled });
  const known = await knownTesters(registry, { world: group.world, methodVersion });
  const basis = fitBasis(runs, known, given);
  const fit = fitGroup(runs, optionsOf(basis, { priors: given.priors, seed: FIT_SEED }));
  const estimates = estimateRows(fit, runs, tallies, basis);
  const contrasts = contrastRows(fit);
  const standings = [...standModels(runs, dates, fit, protocol.parameters.screening)];
  await registry.db.$transaction(async (tx) => {
    const fitId = await publishFit(tx, {
      groupId,
      methodVersion,
      fittedAt,
      runCount: fit.nUsed,
      converged: fit.converged,
      seed: fit.seed,
      durationMs: performance.now() - startedAt,
      summary: summaryOf(fit, { notNormalised, usesPooled, unreadable }),
      basis,
      estimates,
      contrasts,
    });
    await storeStandings(tx, { groupId, fitId }, standings);
    await enqueueJob(tx, CHECK_JOB, comparisonGroupKey(group.cruiseClassKey, group.world), registry.now());
    // for the whole world: a factor is asked in each class, and cruise speed between them
    await enqueueJob(tx, FACTORS_JOB, group.world, registry.now());
  }, PATIENT);
  return fit;
}

/** What a fit is made from, read through a cursor into columns: no more than a batch of rows is in hand. */
async function readGroup(
  registry: Registry,
  group: ComparisonGroupRef & { methodVersion: string },
  report: (done: number) => void,
) {
  const runs = new RunColumnsBuilder();
  const tallies = new SetupTallies();
  const dates = { numbers: [] as number[], days: [] as number[] };
  const unreadable: string[] = [];
  let notNormalised = 0;
  let read = 0;
  for await (const run of countedRunsWithParts(registry.db, group)) {
    read += 1;
    report(read);
    const { runId, setupId, carId, sessionId, loopId, testerId, z, u, measuredWhPerKm, parts } = run;
    if (z === null || u === null || measuredWhPerKm === null) {
      notNormalised += 1;
      continue;
    }
    if (parts === undefined) {
      unreadable.push(runId);
      continue;
    }
    runs.add({
      runId,
      setup: setupId,
      model: run.modelId,
      car: carId,
      session: sessionId,
      loop: loopId,
      tester: testerId,
      z,
      u,
      shared: sharedContributions(parts),
    });
    dates.numbers.push(run.number);
    dates.days.push(run.day.getTime());
    tallies.add({
      setupId,
      testerId,
      carId,
      loopId,
      day: countedDay({ ...run, day: dateText(run.day) }),
      measuredWhPerKm,
    });
  }
  return { runs: runs.columns(), dates, tallies: tallies.tallies(), notNormalised, unreadable };
}

/** Why a run is left out of which nobody knows any more what it has in common with others. */
const UNREADABLE_PARTS = 'what it has in common with other runs can no longer be read';

function summaryOf(
  fit: GroupFit,
  {
    unreadable,
    ...about
  }: Pick<FitSummary, 'notNormalised' | 'usesPooled'> & { unreadable: readonly string[] },
): FitSummary {
  const { estimates: _estimates, contrasts: _contrasts, ranks: _ranks, excluded, ...rest } = fit;
  return {
    ...rest,
    nIn: fit.nIn + unreadable.length,
    excluded: [
      ...excluded.map(({ row, reason }) => ({ runId: row.runId, reason })),
      ...unreadable.map((runId) => ({ runId, reason: UNREADABLE_PARTS })),
    ],
    ...about,
  };
}

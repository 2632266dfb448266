import { sharedContributions } from '@/lib/reduction/runParts';
import { readStepLogs } from '@/lib/reduction/stepLogs';
import type { ComparisonGroupRef } from '@/lib/run/comparisonGroup';
import { intervalsHold } from '@/lib/stats/holds/intervalsHold';
import type { ApprovedRun } from '@/lib/stats/holds/predictInTurn';
import { MOST_SETUPS, otherWays } from '@/lib/stats/otherWays/otherWays';
import type { WayRun } from '@/lib/stats/otherWays/way';
import { type CheckedRow, checkedRuns, differencesOfFit, publishFitCheck } from '@/lib/store/fitChecks';
import { currentFit } from '@/lib/store/fits';

import { activeProtocol } from '../protocol/activeProtocol';
import { fitOptionsOf } from '../rankings/fitOptions';
import type { Registry } from '../registry';

/** Jobs of this kind ask of a class's published fit whether its intervals hold; keyed like those that make it. */
export const CHECK_JOB = 'checkFit';

type CheckedRun = ApprovedRun & WayRun;

/**
 * Asks whether the intervals of a class's current fit hold, and computes its differences other ways. Kept with the fit:
 * where another takes its place meanwhile, that one has a job of its own and this one writes nothing.
 */
export async function checkFit(registry: Registry, group: ComparisonGroupRef): Promise<void> {
  const startedAt = performance.now();
  const fit = await currentFit(registry.db, group);
  if (fit?.summary === undefined || fit.runCount === 0) return;
  const { components, componentCovariance, usesPooled, seed } = fit.summary;
  const { methodVersion } = fit;
  const rows = await readRows(registry, { ...group, methodVersion });
  const [contrasts, protocol] = await Promise.all([
    differencesOfFit(registry.db, fit.id, (MOST_SETUPS * (MOST_SETUPS - 1)) / 2),
    activeProtocol(registry),
  ]);
  const options = await fitOptionsOf(registry, { world: group.world, methodVersion, usesPooled });
  const published = { components, covariance: flat(componentCovariance) };
  const held = intervalsHold(rows, published, options);
  const { stragglerLevel } = protocol.parameters.screening;
  const ways = otherWays(rows, { components, contrasts }, { ...options, seed, stragglerLevel });
  await registry.db.$transaction((tx) =>
    publishFitCheck(tx, {
      fitId: fit.id,
      computedAt: registry.now(),
      durationMs: performance.now() - startedAt,
      result: held,
      pairs: (ways ?? []).map(({ a, b, found }) => ({ a, b, otherWays: found })),
    }),
  );
}

async function readRows(
  registry: Registry,
  of: ComparisonGroupRef & { methodVersion: string },
): Promise<CheckedRun[]> {
  const rows: CheckedRun[] = [];
  for await (const row of checkedRuns(registry.db, of)) {
    const run = checkedRun(row);
    if (run !== undefined) rows.push(run);
  }
  return rows;
}

/** As the fit takes it; undefined for a run that it leaves out. */
function checkedRun(row: CheckedRow): CheckedRun | undefined {
  const { z, u, measuredWhPerKm, traffic, parts } = row;
  if (z === null || u === null || measuredWhPerKm === null || parts === undefined) return undefined;
  const logs = readStepLogs(row.steps);
  return {
    runId: row.runId,
    setup: row.setupId,
    model: row.modelId,
    car: row.carId,
    session: row.sessionId,
    loop: row.loopId,
    tester: row.testerId,
    z,
    u,
    shared: sharedContributions(parts),
    approvedAtMs: row.approvedAt.getTime(),
    measuredZ: Math.log(measuredWhPerKm),
    windLog: logs?.windLog ?? null,
    airLog: logs?.airLog ?? null,
    isRetrospective: row.isRetrospective,
    traffic: traffic === 'free' || traffic === 'dense' ? traffic : 'moderate',
  };
}

function flat(matrix: readonly (readonly number[])[]): Float64Array {
  const values = new Float64Array(16);
  matrix.slice(0, 4).forEach((row, i) => {
    values.set(row.slice(0, 4), i * 4);
  });
  return values;
}

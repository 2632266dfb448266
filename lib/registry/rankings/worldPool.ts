import type { WorldKey } from '@/lib/run/world';
import type { FitRow, PooledComponents } from '@/lib/stats/groupFit';
import { poolComponents } from '@/lib/stats/pooling';
import { approvedNumbers } from '@/lib/store/fits';
import { labelInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';

type ApprovedNumber = Awaited<ReturnType<typeof approvedNumbers>>[number];

/**
 * What the fit of a class too small for its own variance components uses: those of all approved runs of its world, the
 * record or the demo world, each class having setups of its own. A car on a loop keeps its deviation from class to
 * class. Undefined where no other class has runs, or where all of them together are too few.
 */
export async function poolWorld(registry: Registry, world: WorldKey): Promise<PooledComponents | undefined> {
  const methodVersion = await labelInEffect(registry.db, world);
  const runs = (await approvedNumbers(registry.db, world, methodVersion)).flatMap((run) => {
    const row = rowOf(run);
    return row === undefined || run.cruiseClass === null ? [] : [{ row, cruiseClass: run.cruiseClass }];
  });
  const classes = new Map(runs.map(({ cruiseClass }) => [cruiseClass.label, cruiseClass.ordinal]));
  if (classes.size < 2) return undefined;
  const labels = [...classes].sort(([, a], [, b]) => a - b).map(([label]) => label);
  const rows = runs.map(({ row }) => row);
  const pooled = poolComponents(rows, '');
  if (pooled === null) return undefined;
  const cars = new Set(rows.map((row) => row.car)).size;
  return {
    ...pooled,
    from: `all ${rows.length} runs of ${cars} cars at ${inWords(labels)} (${pooled.residualDf} degrees of freedom)`,
  };
}

function rowOf(run: ApprovedNumber): FitRow | undefined {
  const revision = run.revisions.find((candidate) => candidate.number === run.approvedRevision);
  const result = revision?.normalisations[0];
  if (!result?.isNormalised || result.normalisedWhPerKm === null || result.uRunRelative === null) return;
  if (run.setupId === null || run.carId === null || run.sessionId === null || run.loopId === null) return;
  return {
    setup: `${run.setupId} at ${run.cruiseClassKey}`,
    car: run.carId,
    session: run.sessionId,
    loop: run.loopId,
    z: Math.log(result.normalisedWhPerKm),
    u: result.uRunRelative,
  };
}

function inWords(labels: readonly string[]): string {
  return `${labels.slice(0, -1).join(', ')} and ${labels.at(-1)}`;
}

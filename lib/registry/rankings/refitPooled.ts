import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { worldKey } from '@/lib/run/world';
import { hasChangedSince } from '@/lib/store/countedRuns';
import { fitsWithoutStandings } from '@/lib/store/fitStandings';
import { smallFitsBefore } from '@/lib/store/fits';
import { enqueueJob } from '@/lib/store/jobs';
import type { Registry } from '../registry';

/** Jobs of this kind look through both worlds for pooled components that have gone stale. */
export const REFIT_POOLED_JOB = 'refitPooled';

const DAY_MS = 24 * 60 * 60 * 1000;

/**
 * A fit with components of its own is renewed whenever one of its runs changes. One that borrows a component hangs on
 * runs of other classes too: those older than a day are asked for again when anything in their world has changed.
 * So are those that an earlier release made, which say nothing of single runs. Returns how many.
 */
export async function refitPooled(registry: Registry): Promise<number> {
  const now = registry.now();
  return registry.db.$transaction(async (tx) => {
    let asked = 0;
    for (const { fittedAt, group } of await smallFitsBefore(tx, new Date(now.getTime() - DAY_MS))) {
      const world = worldKey(group.world);
      if (!(await hasChangedSince(tx, world, fittedAt))) continue;
      await enqueueJob(tx, 'refit', comparisonGroupKey(group.cruiseClassKey, world), now);
      asked += 1;
    }
    for (const { group } of await fitsWithoutStandings(tx)) {
      const key = comparisonGroupKey(group.cruiseClassKey, worldKey(group.world));
      if (await enqueueJob(tx, 'refit', key, now)) asked += 1;
    }
    return asked;
  });
}

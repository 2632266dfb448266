import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { worldKey } from '@/lib/run/world';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { LEARN_JOB } from '../roadLoads/learnRoadLoad';

/** What has to be concluded anew when a run starts or ceases to count: its group's fit and its model's road load. */
export async function enqueueConclusions(
  db: Queryable,
  run: { cruiseClassKey: string | null; world: string; setup: { modelId: string } | null },
  at: Date,
): Promise<void> {
  if (run.cruiseClassKey !== null) {
    await enqueueJob(db, 'refit', comparisonGroupKey(run.cruiseClassKey, worldKey(run.world)), at);
  }
  if (run.setup !== null) await enqueueJob(db, LEARN_JOB, run.setup.modelId, at);
}

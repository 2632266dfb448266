import { DEMO, RECORD, type WorldKey } from '@/lib/run/world';
import { cohenKappa, type Kappa } from '@/lib/stats/kappa';
import { agreementTable, LEAST_PAIRS } from '@/lib/stats/reReview';
import { decisionPairs, moderationCounts } from '@/lib/store/reReviews';
import type { Registry } from '../registry';

export interface WorldModeration {
  world: WorldKey;
  counts: Awaited<ReturnType<typeof moderationCounts>>;
  /** First reader by row, second by column. */
  table: number[][];
  pairs: number;
  /** Null while there are too few pairs, or where only one decision was ever given. */
  kappa: Kappa | null;
}

/** How decisions are made here and how far two readers agree, in numbers that anybody may read. */
export async function readModeration(registry: Registry): Promise<WorldModeration[]> {
  const worlds = await Promise.all([RECORD, DEMO].map((world) => moderationOf(registry, world)));
  return worlds.filter(({ world, counts }) => world === RECORD || counts.decisions > 0);
}

async function moderationOf({ db }: Registry, world: WorldKey): Promise<WorldModeration> {
  const [counts, found] = await Promise.all([moderationCounts(db, world), decisionPairs(db, world)]);
  const table = agreementTable(found);
  const pairs = found.reduce((sum, { count }) => sum + count, 0);
  return { world, counts, table, pairs, kappa: pairs < LEAST_PAIRS ? null : cohenKappa(table) };
}

import { type WorldKey, worldKey } from '@/lib/run/world';
import { countedLabelOf, countedLabels, type ShownLabel } from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { labelInEffect } from '../method/methodInEffect';

/**
 * The version whose counted runs a world shows: the one in effect, but for the time that a new one takes to be computed.
 * A world that has counted nothing yet will show the one in effect.
 */
export async function shownLabel(db: Queryable, world: WorldKey): Promise<string> {
  return (await countedLabelOf(db, world)) ?? labelInEffect(db, world);
}

/** What each world that has counted something shows, for lists that hold runs of several. */
export async function shownLabels(db: Queryable): Promise<ShownLabel[]> {
  return [...(await countedLabels(db))].map(([world, methodVersion]) => ({
    world: worldKey(world),
    methodVersion,
  }));
}

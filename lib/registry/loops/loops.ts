import { type WorldKey, worldKey } from '@/lib/run/world';
import { listLoops } from '@/lib/store/loops';
import { shownLabels } from '../counted/countedLabel';
import type { Registry } from '../registry';

export interface ListedLoop {
  slug: string;
  name: string;
  region: string;
  turnaround: string;
  lengthM: number;
  lengthUncertaintyM: number;
  altitudeM: number;
  postedLimitMps: number;
  offCruiseShare: number;
  approvedRuns: number;
  world: WorldKey;
}

/** All loops by name. */
export async function readLoops(registry: Registry): Promise<ListedLoop[]> {
  const loops = await listLoops(registry.db, await shownLabels(registry.db));
  return loops.map(({ id: _id, _count, ...loop }) => ({
    ...loop,
    world: worldKey(loop.world),
    approvedRuns: _count.countedRuns,
  }));
}

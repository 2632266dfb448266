import { mapLevel } from '@/lib/registry/factors/mapLevel';
import { nameSharedLevel } from '@/lib/registry/factors/nameSharedLevel';
import type { Registry } from '@/lib/registry/registry';
import type { Actor } from '@/lib/run/roles';
import { DEMO } from '@/lib/run/world';
import { levelId } from '../world/models';
import { SHARED_LEVELS } from '../world/sharedLevels';
import { type FleetIds, found, levelName } from './loadFleet';

/** The demo steward names shared levels and maps the models' own to them, one by one. */
export async function mapDemoLevels(registry: Registry, steward: Actor, fleet: FleetIds): Promise<void> {
  for (const { factor, words, levels } of SHARED_LEVELS) {
    const { sharedLevelId } = await nameSharedLevel(registry, steward, { world: DEMO, factor, words });
    for (const [modelKey, key] of levels) {
      const id = found(fleet.levels, levelName(modelKey, levelId({ factor, key })));
      await mapLevel(registry, steward, { levelId: id, seenId: null, sharedLevelId });
    }
  }
}

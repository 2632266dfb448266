import { type RangePromise, rangePromise } from '@/lib/answers/shownRange';
import type { WorldKey } from '@/lib/run/world';
import { shownRanges } from '@/lib/store/shownRanges';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';

/** What the displays of each setup's counted runs promised, by setup; of a setup with too few such runs nothing. */
export async function promisedRanges(
  registry: Registry,
  group: { cruiseClassKey: string; world: WorldKey },
  setupIds: readonly string[],
): Promise<Map<string, RangePromise>> {
  const methodVersion = await shownLabel(registry.db, group.world);
  const rows = await shownRanges(registry.db, { ...group, methodVersion, setupIds });
  return new Map(
    setupIds.flatMap((setupId) => {
      const promise = rangePromise(rows.filter((row) => row.setupId === setupId));
      return promise === undefined ? [] : [[setupId, promise] as const];
    }),
  );
}

import { WORLDS, type WorldKey } from '@/lib/run/world';
import {
  countedLabelOf,
  countUncounted,
  dropOtherLabels,
  mostUsedLabel,
  moveCountedLabel,
  placeCountedLabel,
} from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { labelInEffect } from '../method/methodInEffect';
import type { Registry } from '../registry';
import { fillCounted } from './countRun';

/** The move deletes the rows of the version before the last: a second per hundred thousand or so. */
const PATIENT = { timeout: 120_000 };

/**
 * Shows a world's runs under a version that all of them are computed under: rows that are still missing are written
 * first, then the world moves at once, with what has to be concluded anew, in one transaction. A revision that the
 * version cannot compute counts without a number. False where the world showed it already, or moved on meanwhile.
 */
export async function showVersion(
  registry: Registry,
  world: WorldKey,
  methodVersion: string,
  conclude: (tx: Queryable) => Promise<void>,
): Promise<boolean> {
  for (;;) {
    const shown = await countedLabelOf(registry.db, world);
    if (shown === undefined || shown === methodVersion) return false;
    await fillCounted(registry.db, world, methodVersion);
    const outcome = await registry.db.$transaction(async (tx) => {
      if ((await countUncounted(tx, world, methodVersion)) > 0) return 'again';
      const at = registry.now();
      if (!(await moveCountedLabel(tx, world, shown, { methodVersion, since: at }))) return 'late';
      await dropOtherLabels(tx, world, [shown, methodVersion]);
      await conclude(tx);
      return 'moved';
    }, PATIENT);
    if (outcome !== 'again') return outcome === 'moved';
  }
}

/**
 * For registries from before counted runs had a table, at each start: places each world's label, the one that most of
 * its runs have a result under, and writes the rows that are missing. Does nothing the second time.
 */
export async function fillCountedRuns(registry: Registry): Promise<void> {
  for (const world of WORLDS) {
    const shown =
      (await countedLabelOf(registry.db, world)) ??
      (await mostUsedLabel(registry.db, world)) ??
      (await labelInEffect(registry.db, world));
    await placeCountedLabel(registry.db, { world, methodVersion: shown, since: registry.now() });
    await fillCounted(registry.db, world, shown);
  }
}

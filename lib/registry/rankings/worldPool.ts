import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import type { WorldKey } from '@/lib/run/world';
import type { FitRow, PooledComponents } from '@/lib/stats/groupFit';
import { poolComponents } from '@/lib/stats/pooling';
import { countedRuns } from '@/lib/store/countedRuns';
import type { Registry } from '../registry';

/**
 * What the fit of a class too small for its own variance components uses: those of all counted runs of its world, each
 * class having setups of its own. A car on a loop keeps its deviation from class to class. Undefined where no other
 * class has runs, or where all of them together are too few.
 */
export async function poolWorld(
  registry: Registry,
  world: WorldKey,
  methodVersion: string,
): Promise<PooledComponents | undefined> {
  const rows: FitRow[] = [];
  const classKeys = new Set<string>();
  for await (const run of countedRuns(registry.db, { world, methodVersion })) {
    const { cruiseClassKey, setupId, carId, sessionId, loopId, z, u } = run;
    if (z === null || u === null) continue;
    classKeys.add(cruiseClassKey);
    const setup = `${setupId} at ${cruiseClassKey}`;
    rows.push({ setup, car: carId, session: sessionId, loop: loopId, z, u });
  }
  if (classKeys.size < 2) return undefined;
  const labels = CRUISE_CLASSES.filter(({ key }) => classKeys.has(key)).map(({ label }) => label);
  const pooled = poolComponents(rows, '');
  if (pooled === null) return undefined;
  const cars = new Set(rows.map((row) => row.car)).size;
  return {
    ...pooled,
    from: `all ${rows.length} runs of ${cars} cars at ${inWords(labels)} (${pooled.residualDf} degrees of freedom)`,
  };
}

function inWords(labels: readonly string[]): string {
  return `${labels.slice(0, -1).join(', ')} and ${labels.at(-1)}`;
}

import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import type { WorldKey } from '@/lib/run/world';
import type { PooledCarLoop } from '@/lib/stats/groupFit';
import { poolCarLoop } from '@/lib/stats/pooling';
import { RunColumnsBuilder } from '@/lib/stats/runColumns';
import { countedRuns } from '@/lib/store/countedRuns';
import type { Registry } from '../registry';

/**
 * What the fit of a class uses in which too few cars drove two loops: the variance of a car on a loop over all counted
 * runs of its world, each class having setups of its own. A car keeps its deviation from class to class. Undefined
 * where no other class has runs, or where all of them together are too few.
 */
export async function poolWorld(
  registry: Registry,
  world: WorldKey,
  methodVersion: string,
): Promise<PooledCarLoop | undefined> {
  const builder = new RunColumnsBuilder();
  const classKeys = new Set<string>();
  for await (const run of countedRuns(registry.db, { world, methodVersion })) {
    const { cruiseClassKey, setupId, carId, sessionId, loopId, z, u } = run;
    if (z === null || u === null) continue;
    classKeys.add(cruiseClassKey);
    const setup = `${setupId} at ${cruiseClassKey}`;
    builder.add({ setup, car: carId, session: sessionId, loop: loopId, z, u });
  }
  if (classKeys.size < 2) return undefined;
  const labels = CRUISE_CLASSES.filter(({ key }) => classKeys.has(key)).map(({ label }) => label);
  const runs = builder.columns();
  const pooled = poolCarLoop(runs, '');
  if (pooled === null) return undefined;
  return {
    ...pooled,
    from: `all ${runs.count} runs of ${runs.car.names.length} cars at ${inWords(labels)}`,
  };
}

function inWords(labels: readonly string[]): string {
  return `${labels.slice(0, -1).join(', ')} and ${labels.at(-1)}`;
}

import { loopDriving } from '@/lib/reduction/loopDriving';
import type { LoopDriving } from '@/lib/reduction/snapshot';
import type { KnownSubjects } from '@/lib/reduction/takeSnapshot';
import { loopRecordings } from '../loops/loopRecordings';
import type { Registry } from '../registry';

/** How the run's loop is driven at its class, from recordings of other approved runs; undefined without any. */
export async function drivingOf(
  registry: Registry,
  { loop, cruiseClass }: Pick<KnownSubjects, 'loop' | 'cruiseClass'>,
  runId: string,
): Promise<LoopDriving | undefined> {
  return loopDriving(await loopRecordings(registry, loop, runId), cruiseClass.speedMps);
}

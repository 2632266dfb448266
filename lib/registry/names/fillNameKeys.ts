import { enqueueJob } from '@/lib/store/jobs';
import { namesWithoutKeys } from '@/lib/store/nameKeys';
import type { Registry } from '../registry';
import { keepName } from './claimName';

/** Jobs of this kind keep what the names of earlier releases look like. */
export const NAME_KEYS_JOB = 'nameKeys';

const BATCH = 200;

/** Asks for the keys where a name has none. */
export async function requestNameKeys(registry: Registry): Promise<boolean> {
  if ((await namesWithoutKeys(registry.db, 1)).length === 0) return false;
  await enqueueJob(registry.db, NAME_KEYS_JOB, 'all', registry.now());
  return true;
}

/** Names that look alike already both stay: only new ones are refused. */
export async function fillNameKeys(
  registry: Registry,
  report: (done: number) => void = () => undefined,
): Promise<number> {
  for (let done = 0; ; ) {
    const batch = await namesWithoutKeys(registry.db, BATCH);
    await registry.db.$transaction(async (tx) => {
      for (const named of batch) await keepName(tx, named);
    });
    done += batch.length;
    report(done);
    if (batch.length < BATCH) return done;
  }
}

import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { comparisonGroupKey } from '@/lib/run/comparisonGroup';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { worldSchema } from '@/lib/run/worldSchema';
import { appendAudit } from '@/lib/store/audit';
import { hasCounted } from '@/lib/store/countedRuns';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import { groupsOfTester } from '@/lib/store/vouchers';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';

const requestRefitSchema = z.object({
  cruiseClassKey: z.string().refine((key) => cruiseClassByKey(key) !== undefined, {
    error: 'There is no such class. | Only the classes of the list are fitted. | Choose one of them.',
  }),
  world: worldSchema,
});

/**
 * Asks the background for a new fit of one class. Asked for again while it waits, it waits once; asked for while it
 * runs, it runs once more after that.
 */
export async function requestRefit(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ isNew: boolean }> {
  const group = parseInput(requestRefitSchema, input);
  authorise(actor, 'refitRankings', undefined, group.world);
  const methodVersion = await shownLabel(registry.db, group.world);
  if (!(await hasCounted(registry.db, { ...group, methodVersion }))) {
    throw new NotFound('No run of this class is approved: there is nothing to fit.');
  }
  const key = comparisonGroupKey(group.cruiseClassKey, group.world);
  return registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const isNew = await enqueueJob(tx, 'refit', key, at);
    if (isNew) {
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'rankings.refit',
        subjectKind: 'comparisonGroup',
        subjectId: key,
      });
    }
    return { isNew };
  });
}

/** In the transaction of what changes how a tester's runs count: the classes that they are in are fitted anew. */
export async function requestRefitsOf(tx: Queryable, testerId: string, at: Date): Promise<void> {
  for (const { cruiseClassKey, world } of await groupsOfTester(tx, testerId))
    await enqueueJob(tx, 'refit', comparisonGroupKey(cruiseClassKey, worldKey(world)), at);
}

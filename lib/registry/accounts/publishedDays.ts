import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { parseInput } from '@/lib/run/parseInput';
import { PUBLISHED_DAYS, type PublishedDays } from '@/lib/run/publishedDay';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { publishedDaysOf, rewritePublishedDays, setPublishedDays } from '@/lib/store/publishedDays';
import { requestRefitsOf } from '../rankings/requestRefit';
import type { Registry } from '../registry';

export async function readPublishedDays(
  registry: Registry,
  actor: Actor | undefined,
): Promise<PublishedDays> {
  requireSignedIn(actor);
  return (await publishedDaysOf(registry.db, actor.accountId)) ?? 'day';
}

const chooseSchema = z.object({
  publishedDays: z.enum(PUBLISHED_DAYS, {
    error: 'Nothing is chosen. | Days are published as chosen here. | Choose one of the two.',
  }),
});

/**
 * What readers see of when the account's runs were driven, from now on and of all of them. Their classes are fitted anew,
 * as what a fit keeps of single days is in the order of published ones, and no snapshot is taken until that is done.
 */
export async function choosePublishedDays(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<PublishedDays> {
  requireSignedIn(actor);
  const { publishedDays: choice } = parseInput(chooseSchema, input);
  const { accountId } = actor;
  await registry.db.$transaction(async (tx) => {
    if (!(await setPublishedDays(tx, accountId, choice))) return;
    const at = registry.now();
    const runs = await rewritePublishedDays(tx, accountId, choice);
    await requestRefitsOf(tx, accountId, at);
    await appendAudit(tx, {
      at,
      actorId: accountId,
      action: 'account.publishedDays',
      subjectKind: 'account',
      subjectId: accountId,
      details: { choice, runs },
    });
  });
  return choice;
}

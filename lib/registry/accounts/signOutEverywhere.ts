import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { raiseSessionEpoch } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Registry } from '../registry';

/** Ends every session of the account, this one included. */
export async function signOutEverywhere(registry: Registry, actor: Actor | undefined): Promise<void> {
  if (actor === undefined) throw new NotAllowed('Sign in first.', false);
  await registry.db.$transaction(async (tx) => {
    await raiseSessionEpoch(tx, actor.accountId);
    await appendAudit(tx, {
      at: registry.now(),
      actorId: actor.accountId,
      action: 'account.signOutEverywhere',
      subjectKind: 'account',
      subjectId: actor.accountId,
    });
  });
}

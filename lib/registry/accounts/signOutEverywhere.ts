import { requireSignedIn } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import type { Registry } from '../registry';
import { endEverySignIn } from './signIns';

/** Ends every sign-in of the account, this one included. */
export async function signOutEverywhere(registry: Registry, actor: Actor | undefined): Promise<void> {
  requireSignedIn(actor);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    await endEverySignIn(tx, actor.accountId, at);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.signOutEverywhere',
      subjectKind: 'account',
      subjectId: actor.accountId,
    });
  });
}

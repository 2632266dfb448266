import { requireSignedIn } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import type { Registry } from '../registry';
import { endAllAccess } from './personalTokens';

/** Ends every sign-in of the account, this one included, and every token for programs. */
export async function signOutEverywhere(registry: Registry, actor: Actor | undefined): Promise<void> {
  requireSignedIn(actor);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    await endAllAccess(tx, actor.accountId, at);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.signOutEverywhere',
      subjectKind: 'account',
      subjectId: actor.accountId,
    });
  });
}

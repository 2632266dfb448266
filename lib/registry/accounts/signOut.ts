import { recordAct } from '../audit/recordAct';
import type { Registry } from '../registry';

/** One browser forgets its token; others of the account go on. Nothing is stored of a token, so this is told only. */
export async function recordSignOut(registry: Registry, accountId: string | undefined): Promise<void> {
  if (accountId === undefined) return;
  await recordAct(registry, {
    actorId: accountId,
    action: 'account.signOut',
    subjectKind: 'account',
    subjectId: accountId,
  });
}

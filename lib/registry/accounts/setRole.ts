import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { type Actor, ROLES } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { accountById, setAccountRole } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { requestRefitsOf } from '../rankings/requestRefit';
import type { Registry } from '../registry';
import { endEverySignIn } from './signIns';
import { stillSteward } from './stillSteward';

const setRoleSchema = z.object({ accountId: z.uuid(), role: z.enum(ROLES) });

/** Gives an account another role. A steward cannot step down alone: a registry must not lose its last one. */
export async function setRole(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  authorise(actor, 'manageRoles');
  requireFresh(actor, registry.now());
  const { accountId, role } = parseInput(setRoleSchema, input);
  if (accountId === actor.accountId) throw new Conflict('Ask another steward to change your own role.');
  await registry.db.$transaction(async (tx) => {
    await stillSteward(tx, actor);
    const account = await accountById(tx, accountId);
    if (account === null) throw new NotFound('This account does not exist.');
    authorise(actor, 'manageRoles', undefined, worldKey(account.world));
    if (account.role === role) return;
    await setAccountRole(tx, accountId, role);
    // The old role stands in tokens already issued: they must not outlive the change.
    const at = registry.now();
    await endEverySignIn(tx, accountId, at);
    // A role above a tester's vouches for whoever has it.
    await requestRefitsOf(tx, accountId, at);
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.setRole',
      subjectKind: 'account',
      subjectId: accountId,
      details: { from: account.role, to: role },
    });
  });
}

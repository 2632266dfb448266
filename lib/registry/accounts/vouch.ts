import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { isVouchedFor } from '@/lib/access/vouched';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { markVouchedFor, voucherOf } from '@/lib/store/vouchers';
import { requestRefitsOf } from '../rankings/requestRefit';
import type { Registry } from '../registry';

/** A steward says that a person stands behind an account: its runs may be ranked from the next fit on. */
export async function vouchFor(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  authorise(actor, 'manageRoles');
  const { accountId } = parseInput(z.object({ accountId: z.uuid() }), input);
  if (accountId === actor.accountId) throw new Conflict('Nobody vouches for themselves.');
  const account = await voucherOf(registry.db, accountId);
  if (account === null) throw new NotFound('This account does not exist.');
  authorise(actor, 'manageRoles', undefined, worldKey(account.world));
  if (isVouchedFor(account)) return;
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    if (!(await markVouchedFor(tx, accountId, { vouchedAt: at, vouchedById: actor.accountId }))) return;
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.vouch',
      subjectKind: 'account',
      subjectId: accountId,
    });
    await requestRefitsOf(tx, accountId, at);
  });
}

import { authorise } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { lockStewards } from '@/lib/store/accounts';
import type { Queryable } from '@/lib/store/database';

/**
 * Two stewards who act against each other at once: the second one may not act any more, so that one is always left.
 * Others wait until the transaction has ended.
 */
export async function stillSteward(tx: Queryable, actor: Actor): Promise<void> {
  if (!(await lockStewards(tx)).includes(actor.accountId))
    authorise({ ...actor, role: 'reader' }, 'manageRoles');
}

import { authorise } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf } from '@/lib/run/world';
import { listAccounts } from '@/lib/store/accounts';
import type { Registry } from '../registry';

/** Everyone with an account, for stewards; for one of the demo world, the accounts of that world. */
export async function readPeople(registry: Registry, actor: Actor | undefined) {
  authorise(actor, 'manageRoles');
  const accounts = await listAccounts(registry.db, onlyWorldOf(actor));
  return accounts.map(({ _count, ...account }) => ({
    ...account,
    runs: _count.runs,
    decisions: _count.decisions,
    isSelf: account.id === actor.accountId,
  }));
}

import { authorise } from '@/lib/access/authorise';
import type { Actor } from '@/lib/domain/roles';
import { listAccounts } from '@/lib/store/accounts';
import type { Registry } from '../registry';

/** Everyone with an account, for stewards. */
export async function readPeople(registry: Registry, actor: Actor | undefined) {
  authorise(actor, 'manageRoles');
  const accounts = await listAccounts(registry.db);
  return accounts.map(({ _count, ...account }) => ({
    ...account,
    runs: _count.runs,
    decisions: _count.decisions,
    isSelf: account.id === actor.accountId,
  }));
}

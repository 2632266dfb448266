import type { Actor } from '@/lib/run/roles';
import { countUnread } from '@/lib/store/notices';
import type { Registry } from '../registry';

/** How many notices the account has not opened yet. */
export function countUnreadNotices(registry: Registry, actor: Actor): Promise<number> {
  return countUnread(registry.db, actor.accountId);
}

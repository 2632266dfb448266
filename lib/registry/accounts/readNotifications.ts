import { requireSignedIn } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { markNotificationsRead } from '@/lib/store/notices';
import type { Registry } from '../registry';

/** Every notice that the actor has by now counts as read. */
export async function readNotifications(registry: Registry, actor: Actor | undefined): Promise<void> {
  requireSignedIn(actor);
  await markNotificationsRead(registry.db, actor.accountId, registry.now());
}

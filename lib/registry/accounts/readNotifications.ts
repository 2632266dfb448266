import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { markNotificationsRead } from '@/lib/store/reviews';
import type { Registry } from '../registry';

/** Every notice that the actor has by now counts as read. */
export async function readNotifications(registry: Registry, actor: Actor | undefined): Promise<void> {
  if (actor === undefined) throw new NotAllowed('Sign in first.', false);
  await markNotificationsRead(registry.db, actor.accountId, registry.now());
}

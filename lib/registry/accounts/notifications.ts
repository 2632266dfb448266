import { NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { notificationsOf } from '@/lib/store/reviews';
import type { Registry } from '../registry';

export interface Notice {
  id: string;
  text: string;
  href: string;
  at: string;
  isRead: boolean;
}

/** What happened to the actor's own runs, the latest first. */
export async function myNotifications(registry: Registry, actor: Actor | undefined): Promise<Notice[]> {
  const rows = await notificationsOf(registry.db, accountOf(actor));
  return rows.map((row) => ({
    id: row.id,
    text: row.text,
    href: row.href,
    at: row.createdAt.toISOString(),
    isRead: row.readAt !== null,
  }));
}

function accountOf(actor: Actor | undefined): string {
  if (actor === undefined) throw new NotAllowed('Sign in first.', false);
  return actor.accountId;
}

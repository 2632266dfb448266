import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import type { Actor } from '@/lib/run/roles';
import { notificationsOf } from '@/lib/store/notices';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

const PAGE_SIZE = 25;

export interface Notice {
  id: string;
  text: string;
  href: string;
  at: string;
  isRead: boolean;
}

/** What happened to the actor's own runs, the latest first. */
export async function myNotifications(
  registry: Registry,
  actor: Actor | undefined,
  from?: string,
): Promise<Page<Notice>> {
  const accountId = accountOf(actor);
  const page = await readPage(from, {
    size: PAGE_SIZE,
    key: z.tuple([keyPart.instant, keyPart.uuid]),
    read: (place, take) => notificationsOf(registry.db, accountId, place, take),
    keyOf: ({ createdAt, id }) => [createdAt.toISOString(), id],
  });
  return {
    ...page,
    rows: page.rows.map((row) => ({
      id: row.id,
      text: row.text,
      href: row.href,
      at: row.createdAt.toISOString(),
      isRead: row.readAt !== null,
    })),
  };
}

function accountOf(actor: Actor | undefined): string {
  requireSignedIn(actor);
  return actor.accountId;
}

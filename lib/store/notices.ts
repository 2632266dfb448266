import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { enqueueJob } from './jobs';
import { beyond, type Place, readingOrder } from './keyset';

/** What people are told within the registry; letters of it are written by a job (`noticeMail.ts`). */

export interface NewNotice {
  accountId: string;
  runId?: string | null;
  kind: string;
  text: string;
  href: string;
  createdAt: Date;
  /** Where another letter says the same already. */
  mailedAt?: Date;
}

/** Writes letters of notices to those who chose that. */
export const MAIL_NOTICES_JOB = 'mailNotices';
export const MAIL_NOTICES_KEY = 'all';
/** What is told within a few minutes goes in one letter. Own judgement. */
const GATHERED_MS = 2 * 60 * 1000;
/** Rows of one statement. */
const AT_ONCE = 1000;

export async function insertNotification(tx: Queryable, notice: NewNotice): Promise<void> {
  await insertNotifications(tx, [notice]);
}

/** In the transaction of what is told. Asks for letters where anybody among them gets each notice by one. */
export async function insertNotifications(tx: Queryable, notices: readonly NewNotice[]): Promise<void> {
  const [first] = notices;
  if (first === undefined) return;
  for (let from = 0; from < notices.length; from += AT_ONCE)
    await tx.notification.createMany({ data: notices.slice(from, from + AT_ONCE) });
  if (await anyGetsEach(tx, notices)) {
    const due = new Date(first.createdAt.getTime() + GATHERED_MS);
    await enqueueJob(tx, MAIL_NOTICES_JOB, MAIL_NOTICES_KEY, due);
  }
}

async function anyGetsEach(tx: Queryable, notices: readonly NewNotice[]): Promise<boolean> {
  const ids = [...new Set(notices.map(({ accountId }) => accountId))];
  const [found] = await tx.$queryRaw<unknown[]>`
    SELECT 1 FROM "Account" WHERE "noticeMail" = 'each' AND "id" = ANY(${ids}::uuid[]) LIMIT 1`;
  return found !== undefined;
}

/** From a place on, the latest first. */
export function notificationsOf(
  db: Queryable,
  accountId: string,
  place: Place<readonly [Date, string]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'desc');
  return db.notification.findMany({
    where: { accountId, AND: beyond<Prisma.NotificationWhereInput>(['createdAt', 'id'], place, 'desc') },
    orderBy: [{ createdAt: order }, { id: order }],
    take,
    select: { id: true, kind: true, text: true, href: true, createdAt: true, readAt: true },
  });
}

export function countUnread(db: Queryable, accountId: string): Promise<number> {
  return db.notification.count({ where: { accountId, readAt: null } });
}

export async function markNotificationsRead(db: Queryable, accountId: string, readAt: Date): Promise<void> {
  await db.notification.updateMany({ where: { accountId, readAt: null }, data: { readAt } });
}

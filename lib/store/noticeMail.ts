import type { NoticeMail } from '@/prisma/generated/client';
import type { Queryable } from './database';

/** Which notices go by letter, and to whom. Nobody is written to who did not choose it for a proved address. */

export function noticeMailOf(db: Queryable, accountId: string) {
  return db.account.findUnique({
    where: { id: accountId },
    select: { noticeMail: true, noticeMailFrom: true, email: true, emailVerifiedAt: true },
  });
}

/** From then on. False where the account has no proved address, or was erased; nothing may be chosen there. */
export async function setNoticeMail(
  tx: Queryable,
  accountId: string,
  chosen: { noticeMail: NoticeMail; noticeMailFrom: Date | null },
): Promise<boolean> {
  const canGet =
    chosen.noticeMail === 'none'
      ? {}
      : { erasedAt: null, email: { not: null }, emailVerifiedAt: { not: null } };
  const { count } = await tx.account.updateMany({ where: { id: accountId, ...canGet }, data: chosen });
  return count === 1;
}

/** Who may have a letter due: by choice, not suspended, with a proved address; at most so many, beyond an id. */
export function accountsToWriteTo(
  db: Queryable,
  of: { weeklyCut: Date; eachAfter: Date; beyond: string | undefined },
  take: number,
): Promise<{ id: string }[]> {
  const { weeklyCut, eachAfter, beyond = '00000000-0000-0000-0000-000000000000' } = of;
  return db.$queryRaw<{ id: string }[]>`
    SELECT "id"::text AS "id" FROM "Account" account
    WHERE "id" > ${beyond}::uuid AND "erasedAt" IS NULL AND "email" IS NOT NULL AND "emailVerifiedAt" IS NOT NULL
      AND NOT EXISTS (
        SELECT 1 FROM "Suspension" WHERE "accountId" = account."id" AND "liftedAt" IS NULL)
      AND (("noticeMail" = 'weekly' AND "noticeMailFrom" < ${weeklyCut})
        OR ("noticeMail" = 'each' AND EXISTS (
          SELECT 1 FROM "Notification" notice
          WHERE notice."accountId" = account."id" AND notice."createdAt" > account."noticeMailFrom"
            AND notice."createdAt" > ${eachAfter}
            AND notice."mailedAt" IS NULL AND notice."readAt" IS NULL)))
    ORDER BY "id" LIMIT ${take}`;
}

/** The account as it is once its row is held, where it may be written to; null where it may not any more. */
export async function holdToWriteTo(tx: Queryable, id: string) {
  await tx.$queryRaw`SELECT "id" FROM "Account" WHERE "id" = ${id}::uuid FOR NO KEY UPDATE`;
  const account = await tx.account.findFirst({
    where: { id, erasedAt: null, emailVerifiedAt: { not: null }, suspensions: { none: { liftedAt: null } } },
    select: { email: true, noticeMail: true, noticeMailFrom: true },
  });
  if (account === null || account.email === null || account.noticeMailFrom === null) return null;
  return { email: account.email, noticeMail: account.noticeMail, from: account.noticeMailFrom };
}

/** Whether letters of notices go to that address now. */
export async function wantsLetters(db: Queryable, id: string, email: string): Promise<boolean> {
  const where = {
    id,
    email,
    erasedAt: null,
    emailVerifiedAt: { not: null },
    noticeMail: { not: 'none' as const },
    suspensions: { none: { liftedAt: null } },
  };
  return (await db.account.findFirst({ where, select: { id: true } })) !== null;
}

/** Notices of an account that nobody read and no letter has, within a span. */
export interface Unsent {
  accountId: string;
  after: Date;
  until: Date;
}

const unsent = ({ accountId, after, until }: Unsent) => ({
  accountId,
  createdAt: { gt: after, lte: until },
  mailedAt: null,
  readAt: null,
});

export async function unsentNotices(tx: Queryable, of: Unsent, take: number) {
  const where = unsent(of);
  const notices = await tx.notification.findMany({
    where,
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    take,
    select: { id: true, text: true, href: true },
  });
  return { notices, total: await tx.notification.count({ where }) };
}

export async function markMailed(tx: Queryable, of: Unsent, mailedAt: Date): Promise<number> {
  const { count } = await tx.notification.updateMany({ where: unsent(of), data: { mailedAt } });
  return count;
}

/** Where the next weekly letter begins. */
export async function moveNoticeMailFrom(tx: Queryable, id: string, noticeMailFrom: Date): Promise<void> {
  await tx.account.updateMany({ where: { id, noticeMail: 'weekly' }, data: { noticeMailFrom } });
}

/** Whether a letter of then was marked as having this notice. */
export async function isMailedAt(db: Queryable, noticeId: string, mailedAt: Date): Promise<boolean> {
  return (
    (await db.notification.findFirst({ where: { id: noticeId, mailedAt }, select: { id: true } })) !== null
  );
}

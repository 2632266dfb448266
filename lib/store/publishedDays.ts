import type { PublishedDays } from '@/lib/run/publishedDay';
import type { Queryable } from './database';

async function publishedDaysOf(db: Queryable, accountId: string): Promise<PublishedDays | undefined> {
  const account = await db.account.findUnique({ where: { id: accountId }, select: { publishedDays: true } });
  return account?.publishedDays;
}

/** The choice as it stands until the transaction ends. */
export async function holdPublishedDays(tx: Queryable, accountId: string): Promise<PublishedDays> {
  await tx.$queryRaw`SELECT "id" FROM "Account" WHERE "id" = ${accountId}::uuid FOR SHARE`;
  return (await publishedDaysOf(tx, accountId)) ?? 'day';
}

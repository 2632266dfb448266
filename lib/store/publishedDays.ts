import type { PublishedDays } from '@/lib/run/publishedDay';
import type { Queryable } from './database';

export async function publishedDaysOf(db: Queryable, accountId: string): Promise<PublishedDays | undefined> {
  const account = await db.account.findUnique({ where: { id: accountId }, select: { publishedDays: true } });
  return account?.publishedDays;
}

/** The choice as it stands until the transaction ends. */
export async function holdPublishedDays(tx: Queryable, accountId: string): Promise<PublishedDays> {
  await tx.$queryRaw`SELECT "id" FROM "Account" WHERE "id" = ${accountId}::uuid FOR SHARE`;
  return (await publishedDaysOf(tx, accountId)) ?? 'day';
}

/** False where it was chosen already. Held from then on, so that no run is sent in or counted by the other choice. */
export async function setPublishedDays(
  tx: Queryable,
  accountId: string,
  chosen: PublishedDays,
): Promise<boolean> {
  const { count } = await tx.account.updateMany({
    where: { id: accountId, erasedAt: null, publishedDays: { not: chosen } },
    data: { publishedDays: chosen },
  });
  return count === 1;
}

/** Writes the published days of all runs of a tester anew: first of the runs, which holds them, then of what counts. */
export async function rewritePublishedDays(
  tx: Queryable,
  testerId: string,
  chosen: PublishedDays,
): Promise<number> {
  const isMonth = chosen === 'month';
  const runs = await tx.$executeRaw`
    UPDATE "Run" SET "monthOnly" = ${isMonth},
      "publishedDay" = CASE WHEN ${isMonth} THEN date_trunc('month', "localDate")::date ELSE "localDate" END
    WHERE "testerId" = ${testerId}::uuid AND "localDate" IS NOT NULL`;
  await tx.$executeRaw`
    UPDATE "CountedRun" counted SET "monthOnly" = run."monthOnly", "day" = run."publishedDay"
    FROM "Run" run WHERE run."id" = counted."runId" AND counted."testerId" = ${testerId}::uuid
      AND run."publishedDay" IS NOT NULL`;
  return runs;
}

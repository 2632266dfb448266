import { Prisma } from '@/prisma/generated/client';

/** What tells apart the days behind a number of them (`countedDay`), of rows of counted runs by a name of the query. */
export function countedDays(alias: string): Prisma.Sql {
  const of = (column: string) => Prisma.raw(`"${alias}"."${column}"`);
  return Prisma.sql`CASE WHEN ${of('monthOnly')} THEN ${of('sessionId')}::text ELSE ${of('day')}::text END`;
}

import { Prisma } from '@/prisma/generated/client';
import { NAMING } from './copyTables';
import type { Queryable } from './database';

/** Runs of an account that wait for somebody else. */
export function countPending(db: Queryable, accountId: string): Promise<number> {
  return db.run.count({ where: { testerId: accountId, status: 'submitted' } });
}

export interface Pseudonym {
  displayName: string;
  slug: string;
}

/**
 * Takes a person out of the record and leaves the record: what names them goes, what was measured stays under a name
 * that is nobody's. The salt first, as the log lets go of what is personal only then. False where it was done before.
 */
export async function erasePerson(
  db: Queryable,
  accountId: string,
  { displayName, slug }: Pseudonym,
  at: Date,
): Promise<boolean> {
  const { count } = await db.account.updateMany({
    where: { id: accountId, erasedAt: null },
    data: {
      email: null,
      emailVerifiedAt: null,
      displayName,
      slug,
      passwordHash: null,
      display: {},
      role: 'reader',
      auditSalt: null,
      noticeMail: 'none',
      noticeMailFrom: null,
      erasedAt: at,
    },
  });
  if (count === 0) return false;
  const own = { where: { accountId } };
  await db.signIn.deleteMany(own);
  await db.token.deleteMany(own);
  await db.keptAnswer.deleteMany(own);
  await db.secondFactor.deleteMany(own);
  await db.externalIdentity.deleteMany(own);
  await db.notification.deleteMany(own);
  await db.columnMapping.deleteMany(own);
  await db.requestBacking.deleteMany(own);
  await db.declaredInterest.updateMany({ where: { accountId, endedAt: null }, data: { endedAt: at } });
  await db.suspension.updateMany({ where: { accountId }, data: { reason: 'erased' } });
  await db.suspension.updateMany({ where: { accountId, appeal: { not: null } }, data: { appeal: 'erased' } });
  await db.suspension.updateMany({
    where: { accountId, liftReason: { not: null } },
    data: { liftReason: 'erased' },
  });
  await db.publicReport.updateMany({ where: { byId: accountId }, data: { words: 'erased' } });
  await db.nameKey.deleteMany({ where: { thingId: accountId } });
  await db.importBatch.updateMany({ where: { byId: accountId }, data: { fileName: 'erased', report: {} } });
  await db.$executeRaw`
    UPDATE "Car" SET "name" = 'Car ' || numbered."ordinal" FROM (
      SELECT "id", row_number() OVER (ORDER BY "createdAt", "id") AS "ordinal" FROM "Car"
      WHERE "ownerId" = ${accountId}::uuid) numbered
    WHERE "Car"."id" = numbered."id"`;
  // What was never sent in is nobody's evidence.
  const drafts = { testerId: accountId, status: 'draft' as const };
  await db.run.updateMany({ where: drafts, data: { draft: {} } });
  await db.sessionSheet.updateMany({ where: { testerId: accountId }, data: { shared: {} } });
  await db.evidenceFile.updateMany({
    where: { uploadedById: accountId, removedAt: null, revisions: { none: {} } },
    data: { removedAt: at },
  });
  await db.$executeRaw`UPDATE "AuditEntry" SET "personal" = NULL
    WHERE "personalOf" = ${accountId}::uuid AND "personal" IS NOT NULL`;
  return true;
}

/**
 * The recordings that an account sent, whose originals show where somebody lives: their digests, but for those that
 * another account sent as well. What results were made from stays in the snapshots, in metres from its own first place.
 */
export function recordingsOnlyOf(db: Queryable, accountId: string) {
  return db.$queryRaw<{ digest: string }[]>`
    SELECT DISTINCT "sha256" AS "digest" FROM "Trace" mine WHERE "uploadedById" = ${accountId}::uuid
      AND NOT EXISTS (SELECT 1 FROM "Trace" other
        WHERE other."sha256" = mine."sha256" AND other."uploadedById" <> mine."uploadedById")`;
}

/** Photos taken off drafts before an instant that no revision holds: their rows go, and then their files. */
export function photosToSweep(db: Queryable, removedBefore: Date, take: number) {
  return db.evidenceFile.findMany({
    where: { removedAt: { lt: removedBefore }, revisions: { none: {} } },
    orderBy: { id: 'asc' },
    take,
    select: { id: true, sha256: true, thumbSha256: true },
  });
}

/** True when this call took it away. */
export async function forgetPhoto(db: Queryable, id: string): Promise<boolean> {
  const { count } = await db.evidenceFile.deleteMany({ where: { id, revisions: { none: {} } } });
  return count === 1;
}

/** Of these digests those that any row names. */
export async function namedAmong(db: Queryable, digests: readonly string[]): Promise<ReadonlySet<string>> {
  const rows = await db.$queryRaw<{ digest: string }[]>`
    SELECT DISTINCT given."digest" FROM unnest(${[...digests]}::text[]) AS given("digest")
    JOIN (${Prisma.raw(NAMING.join(' UNION ALL '))}) named ON named."digest" = given."digest"`;
  return new Set(rows.map(({ digest }) => digest));
}

/** Whether any photo is kept in this file. */
export async function isPictureKept(db: Queryable, digest: string): Promise<boolean> {
  const where = { OR: [{ sha256: digest }, { thumbSha256: digest }] };
  return (await db.evidenceFile.findFirst({ where, select: { id: true } })) !== null;
}

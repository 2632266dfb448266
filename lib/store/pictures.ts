import { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { PERSON, PHOTO } from './names';

/** So many of a kind are looked at for each picture: who has used one so often is found by the first of them. */
const MOST_OF_A_PICTURE = 12;

/** A picture of another run that is, or is nearly, one of the pictures asked for. */
export interface FoundPicture {
  /** The picture asked for. */
  ownId: string;
  otherId: string;
  runNumber: number;
  /** Of the same tester. */
  isOwn: boolean;
  isSame: boolean;
  differingBits: number;
}

/**
 * The pictures of other runs that look like the given ones: the same file, whether as it was sent or as it is kept and
 * shown here, or a hash within the limit. Of another
 * tester's run, those that were there before, on a draft as well, so that whoever comes second is found in whatever
 * order the two are submitted, and whoever came first is left alone. Of the tester's own, those that were submitted.
 *
 * Both searches start from an index: equal digests, and hashes with one byte in common.
 */
export function picturesLike(
  db: Queryable,
  evidenceIds: readonly string[],
  upToBits: number,
): Promise<FoundPicture[]> {
  if (evidenceIds.length === 0) return Promise.resolve([]);
  return db.$queryRaw<FoundPicture[]>(likeQuery(evidenceIds, upToBits));
}

/** Exported for the test of its plan. */
export function likeQuery(evidenceIds: readonly string[], upToBits: number): Prisma.Sql {
  // A copy saved from a page of this registry is encoded anew when it is sent in: it is known by what was sent.
  const same = Prisma.sql`
    (f."sha256" IN (own."sha256", own."sourceSha256") OR f."thumbSha256" = own."sourceSha256"
      OR f."sourceSha256" = own."sourceSha256")`;
  const wasSubmitted = Prisma.sql`EXISTS (SELECT 1 FROM "RevisionEvidence" e WHERE e."evidenceId" = f."id")`;
  const isThere = Prisma.sql`(f."removedAt" IS NULL OR ${wasSubmitted})`;
  const counts = Prisma.sql`
    f."runId" <> own."runId" AND CASE WHEN r."testerId" = own."testerId" THEN ${wasSubmitted}
      ELSE (f."uploadedAt", f."id") < (own."firstAt", own."firstId") AND ${isThere} END`;
  const found = Prisma.sql`
    f."id" AS "otherId", r."number" AS "runNumber", r."testerId" = own."testerId" AS "isOwn"`;
  const distance = Prisma.sql`bit_count((f."pictureHash" # own."pictureHash")::bit(64))::int`;
  const files = Prisma.sql`"EvidenceFile" f JOIN "Run" r ON r."id" = f."runId"`;
  // Who sends an own picture once more was first all the same.
  return Prisma.sql`
    WITH own AS MATERIALIZED (
      SELECT own.*, tester."testerId", first."uploadedAt" AS "firstAt", first."id" AS "firstId"
      FROM "EvidenceFile" own JOIN "Run" tester ON tester."id" = own."runId"
      CROSS JOIN LATERAL (
        SELECT f."uploadedAt", f."id" FROM ${files}
        WHERE ${same} AND r."testerId" = tester."testerId" AND ${isThere}
        ORDER BY f."uploadedAt", f."id" LIMIT 1) first
      WHERE own."id" IN (${Prisma.join(evidenceIds.map((id) => Prisma.sql`${id}::uuid`))})
    )
    SELECT own."id" AS "ownId", other.* FROM own CROSS JOIN LATERAL (
      (SELECT ${found}, true AS "isSame", 0 AS "differingBits"
       FROM ${files} WHERE ${same} AND ${counts}
       ORDER BY "isOwn", f."uploadedAt", f."id" LIMIT ${MOST_OF_A_PICTURE})
      UNION ALL
      (SELECT ${found}, false AS "isSame", ${distance} AS "differingBits"
       FROM ${files}
       WHERE f."pictureBands" && own."pictureBands" AND ${distance} <= ${upToBits}
         AND ${same} IS NOT TRUE AND ${counts}
       ORDER BY "differingBits", "isOwn", f."uploadedAt", f."id" LIMIT ${MOST_OF_A_PICTURE})
    ) other
    ORDER BY other."isOwn", other."differingBits", other."runNumber", own."id", other."otherId"`;
}

/** Pictures as they are shown beside each other, each with its run. */
export function picturesById(db: Queryable, ids: readonly string[]) {
  return db.evidenceFile.findMany({
    where: { id: { in: [...ids] } },
    select: {
      ...PHOTO,
      run: { select: { testerId: true, status: true, world: true, tester: { select: PERSON } } },
      _count: { select: { revisions: true } },
    },
  });
}

/** Pictures of earlier releases, whose hashes are still to be made. */
export function picturesWithoutHash(db: Queryable, afterId: string | undefined, take: number) {
  return db.evidenceFile.findMany({
    where: { isHashed: false, ...(afterId === undefined ? {} : { id: { gt: afterId } }) },
    orderBy: { id: 'asc' },
    take,
    select: { id: true, thumbSha256: true },
  });
}

export async function storePictureHash(
  db: Queryable,
  id: string,
  hashed: { pictureHash: bigint | null; pictureBands: number[] },
): Promise<void> {
  await db.evidenceFile.updateMany({
    where: { id, isHashed: false },
    data: { ...hashed, isHashed: true },
  });
}

import { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

/** What a tester has in common with others, as far as it is on file: each list bounded, the closest ties first. */
export const MOST_TIES = 8;

const SENT = Prisma.sql`r."status" <> 'draft'`;

export function testerAccount(db: Queryable, id: string) {
  return db.account.findUnique({
    where: { id },
    select: { displayName: true, slug: true, role: true, createdAt: true, erasedAt: true, world: true },
  });
}

/** The tester's cars, those with the most runs first. */
export function carsOfTester(db: Queryable, testerId: string) {
  const sent = { testerId, status: { not: 'draft' as const } };
  return db.car.findMany({
    where: { ownerId: testerId, runs: { some: sent } },
    orderBy: [{ runs: { _count: 'desc' } }, { id: 'asc' }],
    take: MOST_TIES,
    select: {
      id: true,
      name: true,
      model: { select: MODEL_NAME },
      _count: { select: { runs: { where: sent } } },
    },
  });
}

export interface LoopTie {
  name: string;
  slug: string;
  runs: number;
  otherTesters: number;
}

/** The loops that the tester drove, with how many others did. */
export function loopsOfTester(db: Queryable, testerId: string): Promise<LoopTie[]> {
  return db.$queryRaw<LoopTie[]>`
    SELECT l."name", l."slug", own."runs"::int AS "runs",
      (SELECT count(DISTINCT r."testerId") FROM "Run" r
       WHERE r."loopId" = l."id" AND ${SENT} AND r."testerId" <> ${testerId}::uuid)::int AS "otherTesters"
    FROM (SELECT r."loopId", count(*) AS "runs" FROM "Run" r
          WHERE r."testerId" = ${testerId}::uuid AND ${SENT} AND r."loopId" IS NOT NULL
          GROUP BY r."loopId" ORDER BY count(*) DESC, r."loopId" LIMIT ${MOST_TIES}) own
    JOIN "Loop" l ON l."id" = own."loopId" ORDER BY own."runs" DESC, l."name"`;
}

export interface ReviewerTie {
  name: string;
  slug: string;
  approved: number;
  decided: number;
  /** Decisions the other way round: by the tester, on runs of this reviewer. */
  back: number;
}

/** Who decided on the tester's runs. */
export function reviewersOfTester(db: Queryable, testerId: string): Promise<ReviewerTie[]> {
  return db.$queryRaw<ReviewerTie[]>`
    SELECT a."displayName" AS "name", a."slug", of."approved"::int AS "approved", of."decided"::int AS "decided",
      (SELECT count(*) FROM "Decision" d JOIN "RunRevision" v ON v."id" = d."revisionId"
       JOIN "Run" r ON r."id" = v."runId"
       WHERE d."reviewerId" = ${testerId}::uuid AND r."testerId" = a."id")::int AS "back"
    FROM (SELECT d."reviewerId", count(*) AS "decided", count(*) FILTER (WHERE d."kind" = 'approve') AS "approved"
          FROM "Run" r JOIN "RunRevision" v ON v."runId" = r."id" JOIN "Decision" d ON d."revisionId" = v."id"
          WHERE r."testerId" = ${testerId}::uuid
            -- a first approval that is waited on stays between its reviewer and the registry
            AND NOT (r."firstApprovalById" IS NOT DISTINCT FROM d."reviewerId" AND d."secondFor" <> '{}' AND d."round" = r."round")
          GROUP BY d."reviewerId" ORDER BY count(*) DESC, d."reviewerId" LIMIT ${MOST_TIES}) of
    JOIN "Account" a ON a."id" = of."reviewerId" ORDER BY of."decided" DESC, a."displayName"`;
}

export interface PictureTie {
  name: string;
  slug: string;
  pictures: number;
  runs: number[];
}

/** Other testers with a file in common, as it was sent, as it is kept or as it is shown. Alike ones stand with each run. */
export function picturesOfTester(db: Queryable, testerId: string): Promise<PictureTie[]> {
  return db.$queryRaw<PictureTie[]>`
    WITH own AS (
      SELECT DISTINCT digest FROM "EvidenceFile" f JOIN "Run" r ON r."id" = f."runId"
      CROSS JOIN LATERAL (VALUES (f."sha256"), (f."sourceSha256")) digests(digest)
      WHERE r."testerId" = ${testerId}::uuid AND digest IS NOT NULL
    ), shared AS (
      SELECT DISTINCT r."testerId", r."number", f."id" FROM own
      JOIN "EvidenceFile" f ON f."sha256" = own.digest OR f."sourceSha256" = own.digest
      JOIN "Run" r ON r."id" = f."runId"
      WHERE r."testerId" <> ${testerId}::uuid AND ${SENT}
    )
    SELECT a."displayName" AS "name", a."slug", count(*)::int AS "pictures",
      (array_agg(DISTINCT s."number" ORDER BY s."number"))[1:5] AS "runs"
    FROM shared s JOIN "Account" a ON a."id" = s."testerId"
    GROUP BY a."id" ORDER BY count(*) DESC, a."id" LIMIT ${MOST_TIES}`;
}

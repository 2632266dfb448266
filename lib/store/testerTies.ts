import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';

/** What testers of runs that count have in common, read from the rows of a world's shown label. */

/** How many of each tester's runs each reviewer approved. */
export function countedApprovals(
  db: Queryable,
  { world, methodVersion }: ShownLabel,
): Promise<{ reviewer: string; tester: string; runs: number }[]> {
  return db.$queryRaw`
    SELECT decision."reviewerId"::text AS "reviewer", counted."testerId"::text AS "tester",
      count(DISTINCT counted."runId")::int AS "runs"
    FROM "CountedRun" counted
    JOIN "Run" run ON run."id" = counted."runId"
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    JOIN "Decision" decision ON decision."revisionId" = revision."id" AND decision."kind" = 'approve'
    WHERE counted."world" = ${world} AND counted."methodVersion" = ${methodVersion}
    GROUP BY 1, 2
    ORDER BY 1, 2`;
}

/** Testers who sent one recording, beside the first of them. */
export function testersOfOneRecording(
  db: Queryable,
  { world, methodVersion }: ShownLabel,
): Promise<{ tester: string; other: string }[]> {
  return db.$queryRaw`
    SELECT DISTINCT first."tester", same."testerId"::text AS "other"
    FROM (
      SELECT trace."sha256", min(counted."testerId"::text) AS "tester"
      FROM "CountedRun" counted JOIN "Trace" trace ON trace."runId" = counted."runId" AND trace."removedAt" IS NULL
      WHERE counted."world" = ${world} AND counted."methodVersion" = ${methodVersion}
      GROUP BY 1 HAVING count(DISTINCT counted."testerId") > 1
    ) first
    JOIN "Trace" trace ON trace."sha256" = first."sha256" AND trace."removedAt" IS NULL
    JOIN "CountedRun" same ON same."runId" = trace."runId"
    WHERE same."world" = ${world} AND same."methodVersion" = ${methodVersion}
      AND same."testerId"::text <> first."tester"
    ORDER BY 1, 2`;
}

export interface PictureRow {
  id: string;
  tester: string;
  sha256: string;
  sourceSha256: string | null;
  thumbSha256: string;
  pictureHash: bigint | null;
  isJudged: boolean;
}

const BATCH = 5000;

/** The photos of approved revisions, in batches by id. A run that a person let count again was judged. */
export async function* countedPictures(
  db: Queryable,
  { world, methodVersion }: ShownLabel,
): AsyncGenerator<PictureRow> {
  let after = '00000000-0000-0000-0000-000000000000';
  for (;;) {
    const rows = await db.$queryRaw<PictureRow[]>`
      SELECT file."id"::text, counted."testerId"::text AS "tester", file."sha256", file."sourceSha256",
        file."thumbSha256", file."pictureHash",
        EXISTS (SELECT 1 FROM "Hold" hold WHERE hold."runId" = run."id" AND hold."liftedById" IS NOT NULL) AS "isJudged"
      FROM "EvidenceFile" file
      JOIN "CountedRun" counted ON counted."runId" = file."runId"
      JOIN "Run" run ON run."id" = counted."runId"
      JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
      JOIN "RevisionEvidence" used ON used."revisionId" = revision."id" AND used."evidenceId" = file."id"
      WHERE counted."world" = ${world} AND counted."methodVersion" = ${methodVersion}
        AND file."id" > ${after}::uuid
      ORDER BY file."id"
      LIMIT ${BATCH}`;
    yield* rows;
    if (rows.length < BATCH) return;
    after = rows.at(-1)?.id ?? after;
  }
}

/** What stands behind the accounts of those whose runs count. */
export function countedTesters(db: Queryable, { world, methodVersion }: ShownLabel) {
  return db.account.findMany({
    where: { countedRuns: { some: { world, methodVersion } } },
    select: { id: true, role: true, vouchedAt: true, emailVerifiedAt: true },
    orderBy: { id: 'asc' },
  });
}

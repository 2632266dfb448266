import type { Queryable } from './database';

/**
 * When a tester first sent in runs since a time, an import once, by its first run; the tester's submissions wait for
 * each other until the transaction ends. Left out is the import that the run belongs to, where it has begun.
 */
export async function submissionsSince(
  tx: Queryable,
  { testerId, runId, since }: { testerId: string; runId: string; since: Date },
): Promise<{ sentAt: Date[]; isOfBegunImport: boolean }> {
  await tx.$queryRaw`SELECT "id" FROM "Account" WHERE "id" = ${testerId}::uuid FOR NO KEY UPDATE`;
  const rows = await tx.$queryRaw<{ sentAt: Date; isOwnImport: boolean }[]>`
    SELECT min(revision."submittedAt") AS "sentAt",
      coalesce(bool_or(run."importBatchId" = own."importBatchId"), false) AS "isOwnImport"
    FROM "Run" own
    JOIN "Run" run ON run."testerId" = own."testerId"
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = 1
    WHERE own."id" = ${runId}::uuid AND own."testerId" = ${testerId}::uuid AND revision."submittedAt" > ${since}
    GROUP BY coalesce(run."importBatchId", run."id")`;
  return {
    sentAt: rows.map(({ sentAt }) => sentAt),
    isOfBegunImport: rows.some(({ isOwnImport }) => isOwnImport),
  };
}

/** Runs of a tester that are approved. */
export function countApprovedRuns(db: Queryable, testerId: string): Promise<number> {
  return db.run.count({ where: { testerId, status: 'approved' } });
}

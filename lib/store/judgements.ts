import type { WorldKey } from '@/lib/run/world';
import { asJson } from './asJson';
import type { KeptFinding } from './correctionRuns';
import type { Queryable } from './database';

/** What the rules say today of revisions that count or wait. */

/** Those of a world that were not judged by a version of protocol and method, in order of their runs' ids, after the one named. */
export async function revisionsToJudge(
  db: Queryable,
  by: { world: WorldKey; protocolVersionId: string; methodVersion: string },
  afterRunId: string | undefined,
  take: number,
) {
  return db.$queryRaw<{ runId: string; baseId: string }[]>`
    SELECT run."id"::text AS "runId", base."id"::text AS "baseId"
    FROM "Run" run
    JOIN LATERAL (
      SELECT revision."id" FROM "RunRevision" revision
      WHERE revision."runId" = run."id"
        AND (run."status" = 'submitted' OR revision."number" = run."approvedRevision")
      ORDER BY revision."number" DESC LIMIT 1) base ON true
    LEFT JOIN "Judgement" judged ON judged."revisionId" = base."id"
    WHERE run."status" IN ('approved', 'submitted') AND run."world" = ${by.world}
      AND (judged."revisionId" IS NULL OR judged."protocolVersionId" <> ${by.protocolVersionId}::uuid
        OR judged."methodVersion" <> ${by.methodVersion})
      AND (${afterRunId ?? null}::uuid IS NULL OR run."id" > ${afterRunId ?? null}::uuid)
    ORDER BY run."id"
    LIMIT ${take}`;
}

export interface NewJudgement {
  revisionId: string;
  protocolVersionId: string;
  methodVersion: string;
  judgedAt: Date;
  fails: number;
  cautions: number;
  failed: readonly KeptFinding[];
}

/** In the place of what was said of the same revisions before. */
export async function replaceJudgements(tx: Queryable, judgements: readonly NewJudgement[]): Promise<void> {
  const revisionIds = judgements.map(({ revisionId }) => revisionId);
  await tx.judgement.deleteMany({ where: { revisionId: { in: revisionIds } } });
  await tx.judgement.createMany({
    data: judgements.map(({ failed, ...judgement }) => ({ ...judgement, failed: asJson([...failed]) })),
  });
}

import type { WorldKey } from '@/lib/run/world';
import type { DecidedKind } from '@/lib/stats/reReview';
import type { Queryable } from './database';

export async function insertReReview(tx: Queryable, decisionId: string, drawnAt: Date): Promise<void> {
  await tx.reReview.create({ data: { decisionId, drawnAt }, select: { decisionId: true } });
}

/** More than a reviewer has to choose from at a time. */
const MOST_OFFERED = 20;

/** Drawn decisions of others that wait, the oldest first; not of runs that this reviewer sent or decided on. */
export function openReReviews(
  db: Queryable,
  { reviewerId, onlyWorld, runId }: { reviewerId: string; onlyWorld?: WorldKey | undefined; runId?: string },
) {
  return db.reReview.findMany({
    where: {
      decidedAt: null,
      decision: {
        revision: {
          decisions: { none: { reviewerId } },
          run: {
            testerId: { not: reviewerId },
            ...(onlyWorld ? { world: onlyWorld } : {}),
            ...(runId ? { id: runId } : {}),
          },
        },
      },
    },
    orderBy: [{ drawnAt: 'asc' }, { decisionId: 'asc' }],
    take: MOST_OFFERED,
    select: {
      decisionId: true,
      drawnAt: true,
      decision: {
        select: {
          revision: {
            select: {
              number: true,
              run: {
                select: {
                  id: true,
                  number: true,
                  status: true,
                  revisions: { orderBy: { number: 'desc' }, take: 1, select: { number: true } },
                },
              },
            },
          },
        },
      },
    },
  });
}

/** False where another reviewer was first. */
export async function closeReReview(
  tx: Queryable,
  decisionId: string,
  data: { reviewerId: string; kind: DecidedKind; note: string; decidedAt: Date },
): Promise<boolean> {
  const { count } = await tx.reReview.updateMany({ where: { decisionId, decidedAt: null }, data });
  return count === 1;
}

export interface DecisionPair {
  first: DecidedKind;
  second: DecidedKind;
  count: number;
}

export function decisionPairs(db: Queryable, world: WorldKey): Promise<DecisionPair[]> {
  return db.$queryRaw<DecisionPair[]>`
    SELECT d."kind"::text AS "first", again."kind"::text AS "second", count(*)::int AS "count"
    FROM "ReReview" again JOIN "Decision" d ON d."id" = again."decisionId"
    JOIN "RunRevision" v ON v."id" = d."revisionId" JOIN "Run" r ON r."id" = v."runId"
    WHERE again."decidedAt" IS NOT NULL AND r."world" = ${world}
    GROUP BY d."kind", again."kind"`;
}

/** What the moderation of a world came to, in counts. */
export async function moderationCounts(db: Queryable, world: WorldKey) {
  const run = { world };
  const [decisions, seconded, waitingSecond, appeals, overturned, drawn] = await Promise.all([
    db.decision.count({ where: { revision: { run } } }),
    db.decision.count({ where: { revision: { run }, NOT: { secondFor: { isEmpty: true } } } }),
    db.run.count({ where: { world, firstApprovalById: { not: null } } }),
    db.appeal.count({ where: { run } }),
    db.appeal.count({ where: { run: { world, status: { in: ['approved', 'retracted'] } } } }),
    db.reReview.count({ where: { decision: { revision: { run } } } }),
  ]);
  return { decisions, seconded, waitingSecond, appeals, overturned, drawn };
}

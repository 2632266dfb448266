import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { NOT_SUSPENDED } from './suspensions';

/** Whose runs a reviewer keeps out of, and what else decides who may approve a run. */

/** What a run is of, as interests name it. */
export interface InterestSubjects {
  testerId: string;
  modelId: string | null;
  makerId: string | null;
}

function touching({ testerId, modelId, makerId }: InterestSubjects): Prisma.DeclaredInterestWhereInput {
  return {
    endedAt: null,
    OR: [
      { kind: 'account', subjectId: testerId },
      ...(modelId === null ? [] : [{ kind: 'model', subjectId: modelId }]),
      ...(makerId === null ? [] : [{ kind: 'maker', subjectId: makerId }]),
    ],
  };
}

/** The kind of an open interest of this account in the run; undefined where it has none. */
export async function interestIn(
  db: Queryable,
  accountId: string,
  subjects: InterestSubjects,
): Promise<string | undefined> {
  const found = await db.declaredInterest.findFirst({
    where: { accountId, ...touching(subjects) },
    select: { kind: true },
  });
  return found?.kind;
}

/** Whether the account decided on this revision before, in any round. */
export async function hasDecidedOn(db: Queryable, accountId: string, revisionId: string): Promise<boolean> {
  const found = await db.decision.findFirst({
    where: { reviewerId: accountId, revisionId },
    select: { id: true },
  });
  return found !== null;
}

/**
 * Who else may decide on a revision: reviewers of its world or of the record, without an interest, not its tester, and
 * not driving in its study.
 */
export function countOtherReviewers(
  db: Queryable,
  {
    world,
    revisionId,
    exceptId,
    ...subjects
  }: InterestSubjects & {
    world: WorldKey;
    revisionId: string;
    exceptId: string;
  },
): Promise<number> {
  return db.account.count({
    where: {
      role: { in: ['reviewer', 'steward'] },
      erasedAt: null,
      suspensions: NOT_SUSPENDED,
      world: { in: ['record', world] },
      id: { notIn: [exceptId, subjects.testerId] },
      interests: { none: touching(subjects) },
      decisions: { none: { revisionId } },
      studiesJoined: {
        none: { study: { runs: { some: { run: { revisions: { some: { id: revisionId } } } } } } },
      },
    },
  });
}

/** Who gave the latest approvals that counted of a tester's runs, the last first; and how many runs were approved at all. */
export async function approvalsOf(
  db: Queryable,
  { testerId, exceptRunId }: { testerId: string; exceptRunId: string },
  take: number,
) {
  const where = { testerId, id: { not: exceptRunId }, approvedRevision: { not: null } };
  const [approved, latest] = await Promise.all([
    db.run.count({ where }),
    db.decision.findMany({
      where: { kind: 'approve', revision: { run: where } },
      orderBy: [{ decidedAt: 'desc' }, { id: 'desc' }],
      take,
      select: { reviewerId: true },
    }),
  ]);
  return { approved, latestApprovers: latest.map(({ reviewerId }) => reviewerId) };
}

/** The lowest ranked setups of a class by the published fit, and one setup in it. */
export async function placesInClass(
  db: Queryable,
  group: { cruiseClassKey: string; world: WorldKey },
  setupId: string,
) {
  const fit = { isCurrent: true, group };
  const select = { setupId: true, logMean: true, runs: true } as const;
  const [leaders, own] = await Promise.all([
    db.estimate.findMany({
      where: { fit, isRanked: true },
      orderBy: [{ logMean: 'asc' }, { setupId: 'asc' }],
      take: 2,
      select,
    }),
    db.estimate.findFirst({ where: { fit, setupId }, select }),
  ]);
  return { leaders, own };
}

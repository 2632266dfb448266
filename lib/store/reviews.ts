import type { WorldKey } from '@/lib/run/world';
import type { DecisionKind, Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';

export interface QueueFilter {
  cruiseClassKey?: string | undefined;
  modelId?: string | undefined;
  loopId?: string | undefined;
  claim?: 'free' | 'mine' | undefined;
  /** Only what waits for a second approval, or after an appeal. */
  waits?: 'second' | 'appeal' | undefined;
  reviewerId: string;
  /** For reviewers of the demo world. */
  onlyWorld?: WorldKey | undefined;
}

function queueWhere(filter: QueueFilter): Prisma.RunWhereInput {
  return {
    status: 'submitted',
    ...(filter.onlyWorld ? { world: filter.onlyWorld } : {}),
    ...(filter.cruiseClassKey ? { cruiseClassKey: filter.cruiseClassKey } : {}),
    ...(filter.modelId ? { car: { modelId: filter.modelId } } : {}),
    ...(filter.loopId ? { loopId: filter.loopId } : {}),
    ...(filter.waits === 'second' ? { firstApprovalById: { not: null } } : {}),
    ...(filter.waits === 'appeal' ? { round: { gt: 1 } } : {}),
    ...(filter.claim === 'free' ? { claims: { none: { releasedAt: null } } } : {}),
    ...(filter.claim === 'mine'
      ? { claims: { some: { releasedAt: null, reviewerId: filter.reviewerId } } }
      : {}),
  };
}

export function countQueue(db: Queryable, filter: QueueFilter): Promise<number> {
  return db.run.count({ where: queueWhere(filter) });
}

/** Submitted runs from a place on, oldest first. */
export function reviewQueue(
  db: Queryable,
  filter: QueueFilter,
  place: Place<readonly [Date, number]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'asc');
  return db.run.findMany({
    where: {
      ...queueWhere(filter),
      AND: beyond<Prisma.RunWhereInput>(['submittedAt', 'number'], place, 'asc'),
    },
    orderBy: [{ submittedAt: order }, { number: order }],
    take,
    select: {
      id: true,
      number: true,
      submittedAt: true,
      world: true,
      round: true,
      firstApprovalById: true,
      tester: { select: { id: true, displayName: true, slug: true } },
      car: {
        select: {
          model: {
            select: {
              id: true,
              makerId: true,
              name: true,
              modelYear: true,
              variant: true,
              maker: { select: { name: true } },
            },
          },
        },
      },
      setup: { select: { title: true } },
      loop: { select: { name: true } },
      cruiseClass: { select: { label: true } },
      studyRun: {
        select: {
          study: {
            select: {
              testers: { where: { accountId: filter.reviewerId }, take: 1, select: { accountId: true } },
            },
          },
        },
      },
      claims: {
        where: { releasedAt: null },
        select: { reviewerId: true, reviewer: { select: { displayName: true } } },
      },
      revisions: {
        orderBy: { number: 'desc' },
        take: 1,
        select: {
          number: true,
          localDate: true,
          findings: { select: { outcome: true } },
          decisions: { where: { reviewerId: filter.reviewerId }, take: 1, select: { id: true } },
        },
      },
    },
  });
}

export function openClaim(db: Queryable, runId: string) {
  return db.reviewClaim.findFirst({
    where: { runId, releasedAt: null },
    select: { id: true, reviewerId: true, claimedAt: true, reviewer: { select: { displayName: true } } },
  });
}

export async function insertClaim(
  db: Queryable,
  runId: string,
  reviewerId: string,
  claimedAt: Date,
): Promise<void> {
  await db.reviewClaim.create({ data: { runId, reviewerId, claimedAt }, select: { id: true } });
}

export async function releaseOpenClaim(
  db: Queryable,
  runId: string,
  reviewerId: string | undefined,
  releasedAt: Date,
): Promise<boolean> {
  const { count } = await db.reviewClaim.updateMany({
    where: { runId, releasedAt: null, ...(reviewerId ? { reviewerId } : {}) },
    data: { releasedAt },
  });
  return count > 0;
}

/** Gives back all that a reviewer holds. */
export async function releaseClaimsOf(db: Queryable, reviewerId: string, releasedAt: Date): Promise<void> {
  await db.reviewClaim.updateMany({ where: { reviewerId, releasedAt: null }, data: { releasedAt } });
}

export function insertDecision(
  db: Queryable,
  decision: {
    revisionId: string;
    reviewerId: string;
    kind: DecisionKind;
    note: string;
    decidedAt: Date;
    round: number;
    secondFor: string[];
    reasons: { ruleId: string; text: string }[];
  },
) {
  const { reasons, ...data } = decision;
  return db.decision.create({ data: { ...data, reasons: { create: reasons } }, select: { id: true } });
}

export function findingsOf(db: Queryable, revisionId: string) {
  return db.finding.findMany({
    where: { revisionId },
    select: {
      ruleId: true,
      outcome: true,
      sentence: true,
      protocolVersion: { select: { label: true } },
    },
  });
}

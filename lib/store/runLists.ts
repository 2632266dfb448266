import type { RunStatus } from '@/lib/run/runStatus';
import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { openInterests } from './interests';
import { beyond, type Place, readingOrder } from './keyset';
import { MODEL_NAME, PERSON } from './names';

export interface PublicRunFilter {
  statuses: RunStatus[];
  cruiseClassKey?: string | undefined;
  modelSlug?: string | undefined;
  loopSlug?: string | undefined;
  testerSlug?: string | undefined;
}

function publicWhere(filter: PublicRunFilter): Prisma.RunWhereInput {
  return {
    status: { in: filter.statuses },
    ...(filter.cruiseClassKey ? { cruiseClassKey: filter.cruiseClassKey } : {}),
    ...(filter.modelSlug ? { setup: { model: { slug: filter.modelSlug } } } : {}),
    ...(filter.loopSlug ? { loop: { slug: filter.loopSlug } } : {}),
    ...(filter.testerSlug ? { tester: { slug: filter.testerSlug } } : {}),
  };
}

export function countPublicRuns(db: Queryable, filter: PublicRunFilter): Promise<number> {
  return db.run.count({ where: publicWhere(filter) });
}

/** Public runs from a place on, the latest published day first. */
export function publicRuns(
  db: Queryable,
  filter: PublicRunFilter & { shown: readonly ShownLabel[] },
  place: Place<readonly [Date, number]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'desc');
  return db.run.findMany({
    where: {
      ...publicWhere(filter),
      AND: beyond<Prisma.RunWhereInput>(['publishedDay', 'number'], place, 'desc'),
    },
    orderBy: [{ publishedDay: order }, { number: order }],
    take,
    select: {
      number: true,
      status: true,
      world: true,
      approvedRevision: true,
      countedRuns: {
        where: { OR: [...filter.shown] },
        select: { measuredWhPerKm: true, z: true, uWhPerKm: true, effectiveDof: true },
      },
      tester: { select: PERSON },
      setup: { select: { slug: true, title: true, model: { select: MODEL_NAME } } },
      loop: { select: { slug: true, name: true } },
      cruiseClass: { select: { label: true } },
      publishedDay: true,
      monthOnly: true,
      revisions: {
        orderBy: { number: 'desc' },
        select: {
          number: true,
          conditions: {
            select: { airTemperatureC: true, windSpeedMps: true, road: true, precipitation: true },
          },
          // of runs that count no more
          normalisations: {
            orderBy: { computedAt: 'desc' },
            take: 1,
            select: {
              isNormalised: true,
              measuredWhPerKm: true,
              normalisedWhPerKm: true,
              uWhPerKm: true,
              effectiveDof: true,
            },
          },
        },
      },
    },
  });
}

/** Of each kind offered to filter by; the address takes any. */
const MOST_CHOICES = 200;

/** What runs of the given states can be filtered by: only what occurs among them. */
export async function runFilterChoices(db: Queryable, statuses: RunStatus[], onlyWorld?: WorldKey) {
  const some = { some: { status: { in: statuses }, ...(onlyWorld ? { world: onlyWorld } : {}) } };
  const [classes, models, loops, testers] = await Promise.all([
    db.cruiseClass.findMany({
      where: { runs: some },
      orderBy: { ordinal: 'asc' },
      take: MOST_CHOICES,
      select: { key: true, label: true },
    }),
    db.vehicleModel.findMany({
      where: { setups: { some: { runs: some } } },
      orderBy: [{ maker: { name: 'asc' } }, { name: 'asc' }],
      take: MOST_CHOICES,
      select: { ...MODEL_NAME, id: true },
    }),
    db.loop.findMany({
      where: { runs: some },
      orderBy: { name: 'asc' },
      take: MOST_CHOICES,
      select: { id: true, slug: true, name: true },
    }),
    db.account.findMany({
      where: { runs: some },
      orderBy: { displayName: 'asc' },
      take: MOST_CHOICES,
      select: PERSON,
    }),
  ]);
  return { classes, models, loops, testers };
}

/**
 * The oldest submitted run of someone else that nobody, or this reviewer, has claimed; neither one that they decided on
 * in an earlier round or as the first of two, nor one that they have an interest in or that is of a study they drive in.
 */
export async function nextForReview(
  db: Queryable,
  { reviewerId, onlyWorld }: { reviewerId: string; onlyWorld?: WorldKey | undefined },
  exceptRunId: string,
) {
  const interests = await openInterests(db, reviewerId);
  const of = (kind: string) => interests.filter((one) => one.kind === kind).map(({ subjectId }) => subjectId);
  return db.run.findFirst({
    where: {
      status: 'submitted',
      ...(onlyWorld ? { world: onlyWorld } : {}),
      id: { not: exceptRunId },
      testerId: { notIn: [reviewerId, ...of('account')] },
      setup: { modelId: { notIn: of('model') }, model: { makerId: { notIn: of('maker') } } },
      NOT: { round: { gt: 1 }, revisions: { some: { decisions: { some: { reviewerId } } } } },
      AND: [
        { OR: [{ firstApprovalById: null }, { firstApprovalById: { not: reviewerId } }] },
        {
          OR: [{ studyRun: null }, { studyRun: { study: { testers: { none: { accountId: reviewerId } } } } }],
        },
        {
          OR: [
            { claims: { none: { releasedAt: null } } },
            { claims: { some: { releasedAt: null, reviewerId } } },
          ],
        },
      ],
    },
    orderBy: { submittedAt: 'asc' },
    select: { number: true },
  });
}

export function runOwner(db: Queryable, number: number) {
  return db.run.findUnique({ where: { number }, select: { id: true, testerId: true, status: true } });
}

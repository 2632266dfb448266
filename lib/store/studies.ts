import type { WorldKey } from '@/lib/run/world';
import type { StudyPlan } from '@/lib/study/plan';
import { readPlan } from '@/lib/study/stored';
import type { StudyState } from '@/lib/study/studyState';
import type { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import { IN_USE } from './cars';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';
import { MODEL_NAME, PERSON } from './names';

/** Studies with their plans and those who drive; their runs stand in studyRuns.ts. */

export interface NewStudy {
  slug: string;
  world: WorldKey;
  question: string;
  ownerId: string;
  modelId: string;
  loopId: string;
  cruiseClassKey: string;
  createdAt: Date;
  /** What readers asked for that it is planned from. */
  requestId: string | null;
}

export async function isStudySlugTaken(db: Queryable, slug: string): Promise<boolean> {
  return (await db.study.findUnique({ where: { slug }, select: { id: true } })) !== null;
}

/** With its first plan and its owner as the first who drives. */
export async function insertStudy(tx: Queryable, study: NewStudy, plan: StudyPlan): Promise<{ id: string }> {
  const { ownerId, createdAt } = study;
  return tx.study.create({
    data: {
      ...study,
      versions: { create: { number: 1, plan: asJson(plan), madeById: ownerId, madeAt: createdAt } },
      testers: { create: { accountId: ownerId, joinedAt: createdAt } },
    },
    select: { id: true },
  });
}

const LISTED = {
  id: true,
  slug: true,
  world: true,
  question: true,
  state: true,
  createdAt: true,
  beganAt: true,
  endedAt: true,
  owner: { select: PERSON },
  model: { select: MODEL_NAME },
  cruiseClass: { select: { key: true, label: true, speedMps: true } },
} as const satisfies Prisma.StudySelect;

const NEWEST = { orderBy: { number: 'desc' }, take: 1 } as const;

/** What the use cases need to know of a study before they change it, with the plan that holds. */
export async function studyById(db: Queryable, id: string) {
  const found = await db.study.findUnique({
    where: { id },
    select: {
      ...LISTED,
      ownerId: true,
      modelId: true,
      loopId: true,
      cruiseClassKey: true,
      versions: { ...NEWEST, select: { number: true, plan: true } },
    },
  });
  if (found === null) return null;
  const { versions, ...study } = found;
  const [newest] = versions;
  return { ...study, version: newest?.number ?? 0, plan: readPlan(newest?.plan) };
}

export type StudyKnown = NonNullable<Awaited<ReturnType<typeof studyById>>>;

/** Plans of one study are few; a page shows the newest. */
const MOST_VERSIONS = 50;
/** So many testers of one study are named. */
export const MOST_STUDY_TESTERS = 50;

export async function studyBySlug(db: Queryable, slug: string) {
  const found = await db.study.findUnique({
    where: { slug },
    select: {
      ...LISTED,
      ownerId: true,
      modelId: true,
      endReason: true,
      request: { select: { id: true, question: true, hiddenAt: true } },
      loop: { select: { id: true, slug: true, name: true, lengthM: true } },
      testers: {
        orderBy: [{ joinedAt: 'asc' }, { accountId: 'asc' }],
        take: MOST_STUDY_TESTERS,
        select: { accountId: true, account: { select: PERSON } },
      },
      versions: {
        orderBy: { number: 'desc' },
        take: MOST_VERSIONS,
        select: { number: true, plan: true, reason: true, madeAt: true, madeBy: { select: PERSON } },
      },
    },
  });
  return (
    found && {
      ...found,
      versions: found.versions.map(({ plan, ...version }) => ({ ...version, plan: readPlan(plan) })),
    }
  );
}

export type StoredStudy = NonNullable<Awaited<ReturnType<typeof studyBySlug>>>;

/** Held until the transaction ends. */
export async function lockStudy(tx: Queryable, id: string): Promise<void> {
  await tx.$queryRaw`SELECT "id" FROM "Study" WHERE "id" = ${id}::uuid FOR UPDATE`;
}

/** From one of the states that allow it; false where it was too late. */
export async function moveStudy(
  tx: Queryable,
  id: string,
  from: StudyState[],
  to: { state: StudyState; beganAt?: Date; endedAt?: Date; endReason?: string },
): Promise<boolean> {
  const { count } = await tx.study.updateMany({ where: { id, state: { in: from } }, data: to });
  return count === 1;
}

/** The plan of a draft, which is not fixed yet. */
export async function replaceDraftPlan(
  tx: Queryable,
  id: string,
  plan: StudyPlan,
  madeAt: Date,
): Promise<boolean> {
  const { count } = await tx.study.updateMany({
    where: { id, state: 'draft' },
    data: { question: plan.question },
  });
  if (count === 0) return false;
  await tx.studyVersion.update({
    where: { studyId_number: { studyId: id, number: 1 } },
    data: { plan: asJson(plan), madeAt },
    select: { number: true },
  });
  return true;
}

/** Fails by the key where another version of that number was made meanwhile. */
export async function insertVersion(
  tx: Queryable,
  version: {
    studyId: string;
    number: number;
    plan: StudyPlan;
    reason: string;
    madeById: string;
    madeAt: Date;
  },
): Promise<void> {
  const { plan, ...data } = version;
  await tx.studyVersion.create({ data: { ...data, plan: asJson(plan) }, select: { number: true } });
}

/** False where the account drives in it already. */
export async function insertStudyTester(
  tx: Queryable,
  tester: { studyId: string; accountId: string; joinedAt: Date },
): Promise<boolean> {
  const { count } = await tx.studyTester.createMany({ data: tester, skipDuplicates: true });
  return count === 1;
}

export async function drivesIn(db: Queryable, studyId: string, accountId: string): Promise<boolean> {
  const where = { studyId_accountId: { studyId, accountId } };
  return (await db.studyTester.findUnique({ where, select: { accountId: true } })) !== null;
}

/** Whether the account has a car of a model, in use. */
export async function hasCarOf(db: Queryable, ownerId: string, modelId: string): Promise<boolean> {
  return (await db.car.findFirst({ where: { ownerId, modelId, ...IN_USE }, select: { id: true } })) !== null;
}

/** Studies in a state, the newest first, from a place on. */
export function listStudies(
  db: Queryable,
  of: { state: StudyState; world: WorldKey },
  place: Place<string> | undefined,
  take: number,
) {
  return db.study.findMany({
    where: { ...of, AND: beyondOne<Prisma.StudyWhereInput>('id', place, 'desc') },
    orderBy: { id: readingOrder(place, 'desc') },
    take,
    select: {
      ...LISTED,
      _count: { select: { runs: true } },
      versions: { ...NEWEST, select: { plan: true } },
    },
  });
}

/** How many studies a world has, by state. */
export async function countStudies(db: Queryable, world: WorldKey): Promise<Map<StudyState, number>> {
  const rows = await db.study.groupBy({ by: ['state'], where: { world }, _count: true });
  return new Map(rows.map(({ state, _count }) => [state, _count]));
}

/** The worlds that have studies. */
export async function worldsOfStudies(db: Queryable): Promise<string[]> {
  const rows = await db.study.groupBy({ by: ['world'], orderBy: { world: 'asc' } });
  return rows.map(({ world }) => world);
}

import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import type { WorldKey } from '@/lib/run/world';
import { readPairDetails } from '@/lib/stats/otherWays/stored';
import type { Prisma } from '@/prisma/generated/client';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';
import { MODEL_NAME } from './names';

/** What the public pages read; nothing here shows a run before it is approved. */

export interface CountedListFilter {
  setupIds?: string[];
  modelId?: string;
  sessionIds?: string[];
  loopId?: string;
  testerId?: string;
  cruiseClassKey?: string;
  shown: readonly ShownLabel[];
}

/** Counted runs with who, what and where, the latest day first, from a place on. */
export function listCounted(
  db: Queryable,
  filter: CountedListFilter,
  take: number,
  place?: Place<readonly [Date, number]>,
) {
  const order = readingOrder(place, 'desc');
  return db.countedRun.findMany({
    where: {
      ...listWhere(filter),
      AND: beyond<Prisma.CountedRunWhereInput>(['day', 'number'], place, 'desc'),
    },
    orderBy: [{ day: order }, { number: order }],
    take,
    select: {
      runId: true,
      number: true,
      world: true,
      cruiseClassKey: true,
      setupId: true,
      carId: true,
      sessionId: true,
      day: true,
      monthOnly: true,
      measuredWhPerKm: true,
      z: true,
      u: true,
      uWhPerKm: true,
      tester: { select: { displayName: true, slug: true } },
      setup: { select: { title: true, slug: true, model: { select: MODEL_NAME } } },
      loop: { select: { id: true, name: true, slug: true } },
      cruiseClass: { select: { label: true } },
    },
  });
}

export type CountedListRow = Awaited<ReturnType<typeof listCounted>>[number];

function listWhere({ setupIds, sessionIds, shown, ...same }: CountedListFilter): Prisma.CountedRunWhereInput {
  const [only, ...more] = shown;
  // One label stands by itself, so that an index that begins with it serves the order too.
  const label = only !== undefined && more.length === 0 ? only : { OR: [...shown] };
  return {
    ...same,
    ...label,
    ...(setupIds === undefined ? {} : { setupId: { in: setupIds } }),
    ...(sessionIds === undefined ? {} : { sessionId: { in: sessionIds } }),
  };
}

export function countCountedOf(db: Queryable, filter: CountedListFilter): Promise<number> {
  return db.countedRun.count({ where: listWhere(filter) });
}

const CONTRAST = {
  setupAId: true,
  setupBId: true,
  kind: true,
  chainLength: true,
  differenceLog: true,
  logSe: true,
  dof: true,
  lowLog: true,
  highLog: true,
  simultaneousLowLog: true,
  simultaneousHighLog: true,
  modelLowLog: true,
  modelHighLog: true,
  word: true,
  sharedULog: true,
  reason: true,
  details: true,
} as const;

/** All contrasts between these setups, in whichever direction each is stored. */
export async function contrastsAmong(db: Queryable, fitId: string, setupIds: string[]) {
  const found = await db.contrast.findMany({
    where: { fitId, setupAId: { in: setupIds }, setupBId: { in: setupIds } },
    select: CONTRAST,
  });
  return found.map(({ details, ...row }) => ({ ...row, ...readPairDetails(details) }));
}

/** The contrasts of these pairs, in whichever direction each is stored. */
export async function contrastsOfPairs(
  db: Queryable,
  fitId: string,
  pairs: readonly { baselineId: string; setupId: string }[],
): Promise<StoredContrast[]> {
  if (pairs.length === 0) return [];
  const found = await db.contrast.findMany({
    where: {
      fitId,
      OR: pairs.flatMap(({ baselineId: a, setupId: b }) => [
        { setupAId: a, setupBId: b },
        { setupAId: b, setupBId: a },
      ]),
    },
    select: CONTRAST,
  });
  return found.map(({ details, ...row }) => ({ ...row, ...readPairDetails(details) }));
}

export type StoredContrast = Awaited<ReturnType<typeof contrastsAmong>>[number];

/** How many setups have a place in each class of a world, by the key of the class. */
export async function rankedByClass(db: Queryable, world: WorldKey): Promise<Map<string, number>> {
  const fits = await db.fit.findMany({
    where: { isCurrent: true, group: { world } },
    select: {
      group: { select: { cruiseClassKey: true } },
      _count: { select: { estimates: { where: { rankLower: { not: null } } } } },
    },
  });
  return new Map(fits.map((fit) => [fit.group.cruiseClassKey, fit._count.estimates]));
}

/** A tester with how much they have published. */
export function publicTester(db: Queryable, slug: string) {
  return db.account.findUnique({
    where: { slug },
    select: {
      id: true,
      displayName: true,
      world: true,
      _count: { select: { runs: { where: { status: { in: [...PUBLIC_RUN_STATUSES] } } }, loops: true } },
    },
  });
}

/** The models that a tester has counted runs with, with how many cars and runs: no car by its own name. */
export async function modelsOfTester(db: Queryable, testerId: string, shown: readonly ShownLabel[]) {
  const cars = await db.countedRun.groupBy({
    by: ['modelId', 'carId'],
    where: listWhere({ testerId, shown }),
    _count: true,
  });
  const models = await db.vehicleModel.findMany({
    where: { id: { in: [...new Set(cars.map(({ modelId }) => modelId))] } },
    select: { ...MODEL_NAME, id: true },
  });
  return models.map((model) => {
    const own = cars.filter(({ modelId }) => modelId === model.id);
    return { model, cars: own.length, runs: own.reduce((sum, { _count }) => sum + _count, 0) };
  });
}

/** One world in counts; cars, testers, loops, setups and models count once they have a run in it that does. */
export async function registryCounts(db: Queryable, { world, methodVersion }: ShownLabel) {
  const rows = await db.$queryRaw<RegistryCounts[]>`
    SELECT count(*)::int AS "approved", count(DISTINCT "carId")::int AS "cars",
      count(DISTINCT "testerId")::int AS "testers", count(DISTINCT "loopId")::int AS "loops",
      count(DISTINCT "setupId")::int AS "setups", count(DISTINCT "modelId")::int AS "models"
    FROM "CountedRun" WHERE "world" = ${world} AND "methodVersion" = ${methodVersion}`;
  return rows[0] ?? { approved: 0, cars: 0, testers: 0, loops: 0, setups: 0, models: 0 };
}

export interface RegistryCounts {
  approved: number;
  cars: number;
  testers: number;
  loops: number;
  setups: number;
  models: number;
}

/** Submitted runs of others that wait for a decision. */
export function countWaiting(db: Queryable, exceptTesterId: string, onlyWorld?: WorldKey): Promise<number> {
  return db.run.count({
    where: {
      status: 'submitted',
      testerId: { not: exceptTesterId },
      ...(onlyWorld ? { world: onlyWorld } : {}),
    },
  });
}

/** A tester's runs that are with them: drafts, and those that a reviewer wants changed. */
export async function countOpenRuns(db: Queryable, testerId: string) {
  const [drafts, changesAsked] = await Promise.all([
    db.run.count({ where: { status: 'draft', testerId } }),
    db.run.count({ where: { status: 'changesAsked', testerId } }),
  ]);
  return { drafts, changesAsked };
}

/** Counted runs of these models, by the model's id. */
export async function countedByModel(
  db: Queryable,
  shown: readonly ShownLabel[],
  modelIds: readonly string[],
): Promise<Map<string, number>> {
  const where = { modelId: { in: [...modelIds] }, OR: [...shown] };
  const rows = await db.countedRun.groupBy({ by: ['modelId'], where, _count: true });
  return new Map(rows.map(({ modelId, _count }) => [modelId, _count]));
}

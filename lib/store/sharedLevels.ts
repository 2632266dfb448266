import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';
import { UNMERGED } from './models';
import { MODEL_NAME } from './names';

/** Levels that several models share, and which levels of models are mapped to them. */

const SHARED = { id: true, world: true, factor: true, key: true, words: true, isBaseline: true } as const;

/** At most so many of one factor are read: the page that maps to them offers them in one list. */
export const MOST_SHARED_LEVELS = 40;

/** Of a world, of one factor or of all, the baseline first. */
export function sharedLevels(db: Queryable, of: { world: WorldKey; factor?: string }) {
  return db.sharedLevel.findMany({
    where: of,
    orderBy: [{ factor: 'asc' }, { isBaseline: 'desc' }, { key: 'asc' }],
    take: of.factor === undefined ? 10 * MOST_SHARED_LEVELS : MOST_SHARED_LEVELS,
    select: { ...SHARED, _count: { select: { levels: true } } },
  });
}

export type SharedLevel = NonNullable<Awaited<ReturnType<typeof sharedLevelById>>>;

export type SharedLevelRow = Awaited<ReturnType<typeof sharedLevels>>[number];

export function countSharedLevels(db: Queryable, of: { world: WorldKey; factor: string }): Promise<number> {
  return db.sharedLevel.count({ where: of });
}

export function sharedLevelById(db: Queryable, id: string) {
  return db.sharedLevel.findUnique({ where: { id }, select: SHARED });
}

/** As it is, held until the transaction ends: to change or remove it, or only so that nobody removes it meanwhile. */
export async function holdSharedLevel(tx: Queryable, id: string, until: 'changed' | 'used') {
  await (until === 'changed'
    ? tx.$queryRaw`SELECT 1 FROM "SharedLevel" WHERE "id" = ${id}::uuid FOR UPDATE`
    : tx.$queryRaw`SELECT 1 FROM "SharedLevel" WHERE "id" = ${id}::uuid FOR KEY SHARE`);
  return sharedLevelById(tx, id);
}

/** The one of a factor that the others are held against, held so that nobody removes it; null where there is none. */
export async function holdBaseline(tx: Queryable, of: { world: WorldKey; factor: string }) {
  const [baseline] = await tx.$queryRaw<{ id: string }[]>`
    SELECT "id"::text AS "id" FROM "SharedLevel"
    WHERE "world" = ${of.world} AND "factor" = ${of.factor} AND "isBaseline" FOR KEY SHARE`;
  return baseline ?? null;
}

export function insertSharedLevel(
  tx: Queryable,
  level: {
    world: WorldKey;
    factor: string;
    key: string;
    words: string;
    isBaseline: boolean;
    createdAt: Date;
  },
) {
  return tx.sharedLevel.create({ data: level, select: { id: true } });
}

/** The level that others are held against becomes another one; false where it was not the one that was seen. */
export async function moveBaseline(tx: Queryable, fromId: string, toId: string): Promise<boolean> {
  const left = await tx.sharedLevel.updateMany({
    where: { id: fromId, isBaseline: true },
    data: { isBaseline: false },
  });
  if (left.count !== 1) return false;
  const taken = await tx.sharedLevel.updateMany({
    where: { id: toId, isBaseline: false },
    data: { isBaseline: true },
  });
  return taken.count === 1;
}

/** Another name; false where it is not called what was seen. */
export async function renameLevel(
  tx: Queryable,
  level: { id: string; from: string; words: string; key: string },
): Promise<boolean> {
  const { id, from, words, key } = level;
  const renamed = await tx.sharedLevel.updateMany({ where: { id, words: from }, data: { words, key } });
  return renamed.count === 1;
}

/** How many levels of models are mapped to it. */
export function mappedTo(db: Queryable, id: string): Promise<number> {
  return db.factorLevel.count({ where: { sharedLevelId: id } });
}

/** Takes it away; what was mapped to it is mapped to none. Returns how many levels those were. */
export async function removeLevel(tx: Queryable, id: string): Promise<number> {
  const freed = await tx.factorLevel.updateMany({
    where: { sharedLevelId: id },
    data: { sharedLevelId: null },
  });
  await tx.sharedLevel.delete({ where: { id } });
  return freed.count;
}

const LEVEL = {
  id: true,
  factor: true,
  key: true,
  label: true,
  isBaseline: true,
  sharedLevelId: true,
  model: {
    select: {
      ...MODEL_NAME,
      world: true,
    },
  },
} as const satisfies Prisma.FactorLevelSelect;

/** What testers named of one factor in a world, in the order in which it was named. */
export function namedLevels(
  db: Queryable,
  of: { world: WorldKey; factor: string; onlyOpen: boolean },
  place: Place<string> | undefined,
  take: number,
) {
  return db.factorLevel.findMany({
    where: {
      factor: of.factor,
      model: { world: of.world },
      ...UNMERGED,
      ...(of.onlyOpen ? { sharedLevelId: null } : {}),
      AND: beyondOne<Prisma.FactorLevelWhereInput>('id', place, 'asc'),
    },
    orderBy: { id: readingOrder(place, 'asc') },
    take,
    select: LEVEL,
  });
}

/** By factor, how many levels of a world's models are mapped and how many are not. */
export async function countMapped(db: Queryable, world: WorldKey) {
  const where = { model: { world }, ...UNMERGED };
  const [all, mapped] = await Promise.all([
    db.factorLevel.groupBy({ by: ['factor'], where, _count: true }),
    db.factorLevel.groupBy({
      by: ['factor'],
      where: { ...where, sharedLevelId: { not: null } },
      _count: true,
    }),
  ]);
  const mappedOf = new Map(mapped.map(({ factor, _count }) => [factor, _count]));
  return new Map(
    all.map(({ factor, _count }) => [factor, { all: _count, mapped: mappedOf.get(factor) ?? 0 }]),
  );
}

export function levelToMap(db: Queryable, id: string) {
  return db.factorLevel.findUnique({ where: { id, ...UNMERGED }, select: LEVEL });
}

/** From what was seen to another; false where it is mapped otherwise by now. */
export async function moveLevel(
  tx: Queryable,
  level: { id: string; from: string | null; to: string | null },
): Promise<boolean> {
  const moved = await tx.factorLevel.updateMany({
    where: { id: level.id, sharedLevelId: level.from },
    data: { sharedLevelId: level.to },
  });
  return moved.count === 1;
}

/** Models of a world that know two shared levels of a factor or more, with their setups. */
export async function modelsWithSharedLevels(db: Queryable, world: WorldKey) {
  const several = await db.$queryRaw<{ modelId: string }[]>`
    SELECT DISTINCT level."modelId" FROM "FactorLevel" level
    JOIN "VehicleModel" model ON model."id" = level."modelId"
    WHERE model."world" = ${world} AND level."sharedLevelId" IS NOT NULL
    GROUP BY level."modelId", level."factor" HAVING count(DISTINCT level."sharedLevelId") > 1
    ORDER BY 1`;
  return several.map(({ modelId }) => modelId);
}

/** One of them: its levels as mapped, and those of its setups that a fit has. */
export async function mappedModel(db: Queryable, modelId: string, fitId: string) {
  const [levels, estimates] = await Promise.all([
    db.factorLevel.findMany({
      where: { modelId, ...UNMERGED },
      select: { factor: true, key: true, label: true, isBaseline: true, sharedLevelId: true },
    }),
    db.estimate.findMany({
      where: { fitId, setup: { modelId } },
      select: {
        setupId: true,
        runs: true,
        setup: {
          select: {
            levels: {
              select: {
                factor: true,
                level: { select: { key: true, label: true, isBaseline: true } },
              },
            },
          },
        },
      },
    }),
  ]);
  return {
    levels,
    setups: estimates.map(({ setupId, runs, setup }) => ({ setupId, runs, levels: setup.levels })),
  };
}

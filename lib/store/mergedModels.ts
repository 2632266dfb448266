import type { PlacedSetup } from '@/lib/reduction/merging/placeSetups';
import type { Queryable } from './database';
import { movePlanned, moveTyped } from './merging';
import { DATA_SHEET, MODEL_NAME } from './names';

/** Models and levels that were found to be others, with the setups that become others by it. */

const MERGED_LEVEL = {
  id: true,
  modelId: true,
  factor: true,
  key: true,
  label: true,
  tyreKind: true,
  isBaseline: true,
  sharedLevelId: true,
  hiddenAt: true,
  mergedIntoId: true,
} as const;

const SETUP_TO_PLACE = {
  id: true,
  slug: true,
  title: true,
  levelsKey: true,
  levels: { select: { factor: true, levelId: true } },
} as const;

/** With all levels that it ever had, and the setups that are ones of their own. */
export function modelToMerge(db: Queryable, by: { slug: string } | { id: string }) {
  return db.vehicleModel.findUnique({
    where: { ...by, mergedIntoId: null },
    select: {
      id: true,
      ...MODEL_NAME,
      ...DATA_SHEET,
      world: true,
      hiddenAt: true,
      levels: { orderBy: { id: 'asc' }, select: MERGED_LEVEL },
      setups: { where: { mergedIntoId: null }, orderBy: { id: 'asc' }, select: SETUP_TO_PLACE },
    },
  });
}

export type ModelToMerge = NonNullable<Awaited<ReturnType<typeof modelToMerge>>>;
export type LevelToMerge = ModelToMerge['levels'][number];

export async function modelIdOfLevel(db: Queryable, levelId: string): Promise<string | undefined> {
  const level = await db.factorLevel.findUnique({
    where: { id: levelId, mergedIntoId: null },
    select: { modelId: true },
  });
  return level?.modelId;
}

/** The adopted version in effect, where it has a road load of one of these models. */
export async function adoptionOf(db: Queryable, modelIds: readonly string[]): Promise<string | undefined> {
  const found = await db.adoptedRoadLoad.findFirst({
    where: { modelId: { in: [...modelIds] }, methodVersion: { isCurrent: true } },
    select: { methodVersion: { select: { label: true } } },
  });
  return found?.methodVersion.label;
}

/** A study that compares two setups which would be one. */
export async function studyOfBoth(
  db: Queryable,
  joins: readonly { setupId: string; intoId: string }[],
): Promise<string | undefined> {
  for (const { setupId, intoId } of joins) {
    const [study] = await db.$queryRaw<{ question: string }[]>`
      SELECT study."question" FROM "StudyVersion" version JOIN "Study" study ON study."id" = version."studyId"
      WHERE version."plan"::text LIKE '%' || ${setupId}::text || '%'
        AND version."plan"::text LIKE '%' || ${intoId}::text || '%' LIMIT 1`;
    if (study !== undefined) return study.question;
  }
  return undefined;
}

/** A request that asks for the difference of two levels, and is not settled. */
export async function openRequestBetween(
  db: Queryable,
  of: { modelId: string; factor: string; keys: readonly [string, string] },
): Promise<string | undefined> {
  const { modelId, factor, keys } = of;
  const found = await db.testRequest.findFirst({
    where: {
      modelId,
      factor,
      fromKey: { in: [...keys] },
      toKey: { in: [...keys] },
      state: { in: ['open', 'taken'] },
    },
    select: { question: true },
  });
  return found?.question;
}

/** Cars, data of charging, studies, requests and declared interests of a model. */
export async function hangingOnModel(
  db: Queryable,
  modelId: string,
): Promise<{ cars: number; studies: number }> {
  const [cars, studies] = await Promise.all([
    db.car.count({ where: { modelId, mergedIntoId: null } }),
    db.study.count({ where: { modelId } }),
  ]);
  return { cars, studies };
}

/** Each setup goes to where it was placed: on with other levels, or into the one that there is. */
export async function moveSetups(
  tx: Queryable,
  modelId: string,
  placed: readonly PlacedSetup[],
): Promise<void> {
  for (const setup of placed) {
    const { setupId } = setup;
    if (setup.kind === 'moves') {
      await tx.setupLevel.deleteMany({ where: { setupId } });
      await tx.setup.update({
        where: { id: setupId },
        data: {
          modelId,
          levelsKey: setup.levelsKey,
          title: setup.title,
          levels: { create: setup.levels.map((level) => ({ ...level })) },
        },
        select: { id: true },
      });
      continue;
    }
    const { intoId } = setup;
    await tx.run.updateMany({ where: { setupId }, data: { setupId: intoId } });
    await moveTyped(tx, 'setupId', setupId, intoId);
    await movePlanned(tx, setupId, intoId);
    await tx.testRequest.updateMany({
      where: { baselineId: setupId, setupId: { not: intoId } },
      data: { baselineId: intoId },
    });
    await tx.testRequest.updateMany({
      where: { setupId, baselineId: { not: intoId } },
      data: { setupId: intoId },
    });
    await tx.setup.updateMany({
      where: { OR: [{ id: setupId }, { mergedIntoId: setupId }] },
      data: { mergedIntoId: intoId },
    });
  }
}

interface Merging {
  fromId: string;
  toId: string;
  /** What readers of its page are told. */
  reason: string;
  at: Date;
}

/** False where it was merged a moment ago. */
export async function markLevelMerged(
  tx: Queryable,
  { fromId, toId, reason, at }: Merging,
): Promise<boolean> {
  const hidden = { hiddenAt: at, hiddenReason: reason };
  const { count } = await tx.factorLevel.updateMany({
    where: { id: fromId, mergedIntoId: null },
    data: { mergedIntoId: toId, sharedLevelId: null, ...hidden },
  });
  await tx.factorLevel.updateMany({ where: { mergedIntoId: fromId }, data: { mergedIntoId: toId } });
  return count === 1;
}

export async function markModelMerged(
  tx: Queryable,
  { fromId, toId, reason, at }: Merging,
): Promise<boolean> {
  const hidden = { hiddenAt: at, hiddenReason: reason };
  const { count } = await tx.vehicleModel.updateMany({
    where: { id: fromId, mergedIntoId: null },
    data: { mergedIntoId: toId, ...hidden },
  });
  await tx.vehicleModel.updateMany({ where: { mergedIntoId: fromId }, data: { mergedIntoId: toId } });
  return count === 1;
}

/** What the one that went was mapped to, where the one that stays is not. */
export async function takeSharedLevel(tx: Queryable, toId: string, sharedLevelId: string): Promise<void> {
  await tx.factorLevel.updateMany({ where: { id: toId, sharedLevelId: null }, data: { sharedLevelId } });
}

/** A level that the other model does not know becomes one of its own; so do those that were merged into it. */
export async function moveLevelToModel(tx: Queryable, id: string, modelId: string): Promise<void> {
  await tx.factorLevel.updateMany({ where: { id }, data: { modelId } });
}

/** Requests name levels by their keys. One that asks for the difference of the two, and is settled, stays as it was. */
export async function moveRequestedLevel(
  tx: Queryable,
  of: { modelId: string; factor: string; from: string; to: string },
): Promise<void> {
  const { modelId, factor, from, to } = of;
  const where = { modelId, factor };
  await tx.testRequest.updateMany({
    where: { ...where, fromKey: from, toKey: { not: to } },
    data: { fromKey: to },
  });
  await tx.testRequest.updateMany({
    where: { ...where, toKey: from, fromKey: { not: to } },
    data: { toKey: to },
  });
}

/** Cars, what is known of charging, studies, requests and declared interests; what was learned of the other ends. */
export async function moveToModel(tx: Queryable, fromId: string, toId: string): Promise<void> {
  const [where, data] = [{ modelId: fromId }, { modelId: toId }];
  await tx.car.updateMany({ where, data });
  await tx.chargingSheet.updateMany({ where, data });
  await tx.study.updateMany({ where, data });
  await tx.testRequest.updateMany({ where, data });
  await tx.learnedRoadLoad.updateMany({ where: { ...where, isCurrent: true }, data: { isCurrent: false } });
  await tx.declaredInterest.updateMany({
    where: { kind: 'model', subjectId: fromId },
    data: { subjectId: toId },
  });
}

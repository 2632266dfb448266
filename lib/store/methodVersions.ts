import { type Adoption, readAdoption, readLearning } from '@/lib/reduction/learning/stored';
import { type TyreKind, tyreKindOf } from '@/lib/run/tyreKind';
import type { WorldKey } from '@/lib/run/world';
import { asJson } from './asJson';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

/** Submissions share it and an adoption takes it alone: no run is stored under a version that is being replaced. */
const METHOD_LOCK = 7_220_211;

/** Until the transaction ends, no version is adopted. */
export async function holdMethodVersion(tx: Queryable): Promise<void> {
  await tx.$queryRaw`SELECT pg_advisory_xact_lock_shared(${METHOD_LOCK})::text`;
}

/** Waits for the submissions under way and keeps others from starting until the transaction ends. */
export async function lockMethodVersion(tx: Queryable): Promise<void> {
  await tx.$queryRaw`SELECT pg_advisory_xact_lock(${METHOD_LOCK})::text`;
}

/** The adopted version in effect in each world that has one. */
export function currentMethodVersions(db: Queryable) {
  return db.methodVersion.findMany({
    where: { isCurrent: true },
    select: { world: true, ordinal: true },
  });
}

export async function currentMethodVersion(db: Queryable, world: WorldKey) {
  const found = await db.methodVersion.findFirst({
    where: { isCurrent: true, world },
    select: {
      id: true,
      label: true,
      ordinal: true,
      roadLoads: {
        select: {
          modelId: true,
          runCount: true,
          posterior: true,
          levels: true,
          model: { select: { merged: { orderBy: { id: 'asc' }, select: { id: true } } } },
        },
      },
    },
  });
  return (
    found && {
      ...found,
      roadLoads: found.roadLoads.map(({ posterior, levels, model, ...road }) => ({
        ...road,
        /** What was merged into it: inputs of runs may name that. */
        mergedIds: model.merged.map(({ id }) => id),
        adoption: readAdoption({ posterior, levels }),
      })),
    }
  );
}

export interface NewMethodVersion {
  label: string;
  engine: string;
  world: WorldKey;
  ordinal: number;
  adoptedAt: Date;
  adoptedById: string;
  summary: string;
  roadLoads: ({
    modelId: string;
    learnedRoadLoadId: string;
    runCount: number;
    gainPerRun: number;
  } & Adoption)[];
}

/** Puts a version in place of the current one of its world; earlier ones stay. */
export async function publishMethodVersion(tx: Queryable, version: NewMethodVersion): Promise<string> {
  const { roadLoads, ...data } = version;
  await tx.methodVersion.updateMany({
    where: { world: version.world, isCurrent: true },
    data: { isCurrent: false },
  });
  const { id } = await tx.methodVersion.create({ data: { ...data, isCurrent: true }, select: { id: true } });
  await tx.adoptedRoadLoad.createMany({
    data: roadLoads.map(({ posterior, levels, ...roadLoad }) => ({
      ...roadLoad,
      posterior: asJson(posterior),
      levels: asJson(levels),
      methodVersionId: id,
    })),
  });
  return id;
}

export async function lastOrdinal(db: Queryable, world: WorldKey): Promise<number> {
  const last = await db.methodVersion.findFirst({
    where: { world },
    orderBy: { ordinal: 'desc' },
    select: { ordinal: true },
  });
  return last?.ordinal ?? 0;
}

const MODEL = {
  id: true,
  ...MODEL_NAME,
} as const;

/** Everything that was ever adopted, the newest first. */
export function adoptedVersions(db: Queryable) {
  return db.methodVersion.findMany({
    orderBy: [{ adoptedAt: 'desc' }, { ordinal: 'desc' }],
    select: {
      id: true,
      label: true,
      engine: true,
      world: true,
      isCurrent: true,
      adoptedAt: true,
      summary: true,
      adoptedBy: { select: { displayName: true } },
      roadLoads: {
        orderBy: { model: { slug: 'asc' } },
        select: { runCount: true, gainPerRun: true, model: { select: MODEL } },
      },
    },
  });
}

/** What the models of a world have learned, as it stands now, as far as it can be read. */
export async function learnedOfWorld(db: Queryable, world: WorldKey) {
  const found = await db.learnedRoadLoad.findMany({
    where: { isCurrent: true, model: { world } },
    orderBy: { model: { slug: 'asc' } },
    select: {
      id: true,
      runCount: true,
      learnedAt: true,
      beatsPriors: true,
      result: true,
      model: { select: MODEL },
    },
  });
  return found.flatMap(({ result, ...row }) => {
    const road = readLearning(result);
    return road === undefined ? [] : [{ ...row, road }];
  });
}

/** The adoption of a model's road load by the version in effect. */
export function adoptionOfModel(db: Queryable, modelSlug: string) {
  return db.adoptedRoadLoad.findFirst({
    where: { model: { slug: modelSlug }, methodVersion: { isCurrent: true } },
    select: {
      runCount: true,
      methodVersion: { select: { label: true, adoptedAt: true } },
    },
  });
}

/** Levels of setups by slug, for the rule of what an adopted road load holds for. */
export function levelsOfSetups(db: Queryable, slugs: string[]) {
  return db.setup.findMany({
    where: { slug: { in: slugs } },
    select: {
      slug: true,
      levels: { select: { factor: true, level: { select: { id: true, isBaseline: true } } } },
    },
  });
}

/** The kinds of tyre of levels that have one. */
export async function tyreKindsOfLevels(db: Queryable, levelIds: string[]): Promise<Map<string, TyreKind>> {
  if (levelIds.length === 0) return new Map();
  const levels = await db.factorLevel.findMany({
    where: { id: { in: levelIds }, tyreKind: { not: null } },
    select: { id: true, tyreKind: true },
  });
  return new Map(levels.map(({ id, tyreKind }) => [id, tyreKindOf(tyreKind)]));
}

import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

/** A model with what the learning of its road load starts from. */
export function modelForLearning(db: Queryable, modelId: string) {
  return db.vehicleModel.findUnique({
    where: { id: modelId },
    select: {
      id: true,
      world: true,
      bodyClass: true,
      dragAreaM2: true,
      levels: { where: { factor: 'wheelTyre', isBaseline: true }, select: { tyreKind: true } },
    },
  });
}

/** A model's approved runs in all classes with their results under one method version, the newest first. */
export function learnableRuns(db: Queryable, modelId: string, world: WorldKey, methodVersion: string) {
  return db.run.findMany({
    where: { status: 'approved', world, setup: { modelId } },
    orderBy: { number: 'desc' },
    select: {
      number: true,
      carId: true,
      sessionId: true,
      approvedRevision: true,
      setup: {
        select: {
          id: true,
          slug: true,
          title: true,
          levels: { select: { factor: true, level: { select: { isBaseline: true, tyreKind: true } } } },
        },
      },
      revisions: {
        select: {
          number: true,
          normalisations: {
            where: { methodVersion },
            select: { isNormalised: true, measuredWhPerKm: true, uRunRelative: true, input: true },
          },
        },
      },
    },
  });
}

/** The fit of the same world with the most runs: how cars, days and runs scatter. */
export function largestFit(db: Queryable, world: WorldKey) {
  return db.fit.findFirst({
    where: { isCurrent: true, converged: true, group: { world } },
    orderBy: { runCount: 'desc' },
    select: {
      runCount: true,
      summary: true,
      group: { select: { cruiseClass: { select: { label: true } } } },
    },
  });
}

/** Puts a model's newest road load in place of the current one; null where there is nothing to learn from any more. */
export async function publishRoadLoad(
  db: Queryable,
  modelId: string,
  learned: {
    learnedAt: Date;
    runCount: number;
    beatsPriors: boolean;
    result: Prisma.InputJsonObject;
  } | null,
): Promise<void> {
  await db.learnedRoadLoad.updateMany({ where: { modelId, isCurrent: true }, data: { isCurrent: false } });
  if (learned === null) return;
  await db.learnedRoadLoad.create({ data: { ...learned, modelId, isCurrent: true }, select: { id: true } });
}

export function currentRoadLoad(db: Queryable, modelSlug: string) {
  return db.learnedRoadLoad.findFirst({
    where: { isCurrent: true, model: { slug: modelSlug } },
    select: { learnedAt: true, runCount: true, beatsPriors: true, result: true },
  });
}

/** The models of which a world has approved runs. */
export function modelsWithApprovedRuns(db: Queryable, world: WorldKey) {
  return db.vehicleModel.findMany({
    where: { setups: { some: { runs: { some: { status: 'approved', world } } } } },
    orderBy: { id: 'asc' },
    select: { id: true },
  });
}

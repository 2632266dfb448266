import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { readCase } from '@/lib/physics/stored';
import { readLearning, type StoredRoadLoad } from '@/lib/reduction/learning/stored';
import type { WorldKey } from '@/lib/run/world';
import { readFitSummary } from '@/lib/stats/stored';
import { asJson } from './asJson';
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

/**
 * What the engine was given for the approved revisions of these runs under one method version, by run; undefined where it
 * cannot be read.
 */
export async function engineInputs(
  db: Queryable,
  runIds: readonly string[],
  methodVersion: string,
): Promise<Map<string, NormalisationCase | undefined>> {
  const rows = await db.$queryRaw<{ runId: string; input: unknown }[]>`
    SELECT run."id" AS "runId", result."input"
    FROM "Run" run
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    JOIN "Normalisation" result
      ON result."revisionId" = revision."id" AND result."methodVersion" = ${methodVersion}
    WHERE run."id" = ANY(${[...runIds]}::uuid[])`;
  return new Map(rows.map(({ runId, input }) => [runId, readCase(input)]));
}

/** The setups of a model with what decides which of their runs it learns from. */
export function setupsForLearning(db: Queryable, modelId: string) {
  return db.setup.findMany({
    where: { modelId },
    select: {
      id: true,
      slug: true,
      title: true,
      levels: { select: { factor: true, level: { select: { isBaseline: true, tyreKind: true } } } },
    },
  });
}

/** The fit of the same world with the most runs: how cars, days and runs scatter. */
export async function largestFit(db: Queryable, world: WorldKey) {
  const found = await db.fit.findFirst({
    where: { isCurrent: true, converged: true, group: { world } },
    orderBy: { runCount: 'desc' },
    select: {
      runCount: true,
      summary: true,
      group: { select: { cruiseClass: { select: { label: true } } } },
    },
  });
  return found && { ...found, summary: readFitSummary(found.summary) };
}

/** Puts a model's newest road load in place of the current one; null where there is nothing to learn from any more. */
export async function publishRoadLoad(
  db: Queryable,
  modelId: string,
  learned: {
    learnedAt: Date;
    runCount: number;
    beatsPriors: boolean;
    result: StoredRoadLoad;
  } | null,
): Promise<void> {
  await db.learnedRoadLoad.updateMany({ where: { modelId, isCurrent: true }, data: { isCurrent: false } });
  if (learned === null) return;
  await db.learnedRoadLoad.create({
    data: { ...learned, result: asJson(learned.result), modelId, isCurrent: true },
    select: { id: true },
  });
}

export async function currentRoadLoad(db: Queryable, modelSlug: string) {
  const found = await db.learnedRoadLoad.findFirst({
    where: { isCurrent: true, model: { slug: modelSlug } },
    select: { learnedAt: true, runCount: true, beatsPriors: true, result: true },
  });
  return found && { ...found, result: readLearning(found.result) };
}

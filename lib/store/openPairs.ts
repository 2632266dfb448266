import type { WorldKey } from '@/lib/run/world';
import { IN_USE } from './cars';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

/** What could be driven next in a class: differences that are open, and who has driven what. */

interface OpenPairRow {
  baselineId: string;
  baselineSlug: string;
  setupId: string;
  slug: string;
  modelId: string;
}

/**
 * Pairs of one model, one factor apart, whose difference has an interval and is not settled: the widest first. The one
 * with fewer changes from the car as delivered is the baseline.
 */
export function openPairs(
  db: Queryable,
  of: { fitId: string; modelIds?: readonly string[] | undefined },
  take: number,
): Promise<OpenPairRow[]> {
  const anyModel = of.modelIds === undefined;
  return db.$queryRaw<OpenPairRow[]>`
    WITH fitted AS (
      SELECT estimate."setupId", setup."modelId", setup."slug"
      FROM "Estimate" estimate
      JOIN "Setup" setup ON setup."id" = estimate."setupId"
      JOIN "VehicleModel" model ON model."id" = setup."modelId" AND model."hiddenAt" IS NULL
      WHERE estimate."fitId" = ${of.fitId}::uuid
        AND (${anyModel} OR setup."modelId" = ANY(${[...(of.modelIds ?? [])]}::uuid[]))
    ), changed AS (
      SELECT fitted."setupId", named."factor", named."levelId"
      FROM fitted
      JOIN "SetupLevel" named ON named."setupId" = fitted."setupId"
      JOIN "FactorLevel" level ON level."id" = named."levelId" AND NOT level."isBaseline"
    ), changes AS (
      SELECT fitted.*,
        (SELECT count(*) FROM changed WHERE changed."setupId" = fitted."setupId") AS "count"
      FROM fitted
    )
    SELECT baseline."setupId" AS "baselineId", baseline."slug" AS "baselineSlug", other."setupId", other."slug",
      baseline."modelId"
    FROM changes baseline
    JOIN changes other ON other."modelId" = baseline."modelId" AND other."setupId" <> baseline."setupId"
      AND (other."count", other."setupId") > (baseline."count", baseline."setupId")
    JOIN "Contrast" contrast ON contrast."fitId" = ${of.fitId}::uuid
      AND contrast."setupAId" IN (baseline."setupId", other."setupId")
      AND contrast."setupBId" IN (baseline."setupId", other."setupId")
    WHERE contrast."word" <> 'settled' AND contrast."dof" >= 1 AND contrast."logSe" > 0
      AND 1 = (
        SELECT count(DISTINCT apart."factor") FROM (
          SELECT "factor", "levelId" FROM changed
          WHERE changed."setupId" IN (baseline."setupId", other."setupId")
          GROUP BY "factor", "levelId" HAVING count(*) = 1
        ) apart
      )
    ORDER BY contrast."highLog" - contrast."lowLog" DESC, other."setupId", baseline."setupId"
    LIMIT ${take}`;
}

/** Cars of models with the loops that they drove in a class, those with most runs first. */
export function carsOnLoops(
  db: Queryable,
  of: {
    world: WorldKey;
    methodVersion: string;
    cruiseClassKey: string;
    modelIds: readonly string[];
    carIds?: readonly string[];
  },
  take: number,
): Promise<
  { carId: string; modelId: string; loopId: string; name: string; lengthM: number; runs: number }[]
> {
  const anyCar = of.carIds === undefined;
  return db.$queryRaw`
    SELECT counted."carId", counted."modelId", counted."loopId", loop."name", loop."lengthM", count(*)::int AS "runs"
    FROM "CountedRun" counted JOIN "Loop" loop ON loop."id" = counted."loopId" AND loop."hiddenAt" IS NULL
    WHERE counted."world" = ${of.world} AND counted."methodVersion" = ${of.methodVersion}
      AND counted."cruiseClassKey" = ${of.cruiseClassKey} AND counted."z" IS NOT NULL
      AND counted."modelId" = ANY(${[...of.modelIds]}::uuid[])
      AND (${anyCar} OR counted."carId" = ANY(${[...(of.carIds ?? [])]}::uuid[]))
    GROUP BY counted."carId", counted."modelId", counted."loopId", loop."name", loop."lengthM"
    ORDER BY "runs" DESC, counted."carId", counted."loopId"
    LIMIT ${take}`;
}

/** Σ 1/(v + u²) by car, loop, session and setup: what a fit at these components makes of a car's runs. */
export function weightsOfCars(
  db: Queryable,
  of: {
    world: WorldKey;
    methodVersion: string;
    cruiseClassKey: string;
    carIds: readonly string[];
    /** v, above 0. */
    runVariance: number;
  },
  take: number,
): Promise<{ carId: string; loopId: string; sessionId: string; setupId: string; weight: number }[]> {
  return db.$queryRaw`
    SELECT "carId", "loopId", "sessionId", "setupId", sum(1 / (${of.runVariance}::float8 + "u" * "u")) AS "weight"
    FROM "CountedRun"
    WHERE "carId" = ANY(${[...of.carIds]}::uuid[]) AND "methodVersion" = ${of.methodVersion}
      AND "cruiseClassKey" = ${of.cruiseClassKey} AND "world" = ${of.world} AND "z" IS NOT NULL AND "u" IS NOT NULL
    GROUP BY "carId", "loopId", "sessionId", "setupId"
    ORDER BY "carId", "loopId", "sessionId", "setupId"
    LIMIT ${take}`;
}

/** Setups of the fit's models, one change from one that was driven as delivered, that nobody has driven in the class. */
export function undrivenChanges(
  db: Queryable,
  of: { fitId: string; world: WorldKey },
  take: number,
): Promise<{ baselineId: string; slug: string; title: string; modelId: string }[]> {
  return db.$queryRaw`
    WITH delivered AS (
      SELECT estimate."setupId", setup."modelId", estimate."runs"
      FROM "Estimate" estimate JOIN "Setup" setup ON setup."id" = estimate."setupId"
      WHERE estimate."fitId" = ${of.fitId}::uuid AND NOT EXISTS (
        SELECT 1 FROM "SetupLevel" named JOIN "FactorLevel" level ON level."id" = named."levelId"
        WHERE named."setupId" = setup."id" AND NOT level."isBaseline")
    )
    SELECT delivered."setupId" AS "baselineId", setup."slug", setup."title", setup."modelId"
    FROM delivered
    JOIN "VehicleModel" model ON model."id" = delivered."modelId" AND model."hiddenAt" IS NULL
    JOIN "Setup" setup ON setup."modelId" = delivered."modelId" AND setup."id" <> delivered."setupId"
    WHERE setup."world" = ${of.world} AND setup."mergedIntoId" IS NULL
      AND NOT EXISTS (
        SELECT 1 FROM "Estimate" estimate
        WHERE estimate."fitId" = ${of.fitId}::uuid AND estimate."setupId" = setup."id")
      AND 1 = (
        SELECT count(*) FROM "SetupLevel" named JOIN "FactorLevel" level ON level."id" = named."levelId"
        WHERE named."setupId" = setup."id" AND NOT level."isBaseline")
    ORDER BY delivered."runs" DESC, setup."id"
    LIMIT ${take}`;
}

/** What models are called, by id. */
export async function modelsNamed(db: Queryable, ids: readonly string[]) {
  const where = { id: { in: [...ids] } };
  const rows = await db.vehicleModel.findMany({ where, select: { id: true, ...MODEL_NAME } });
  return new Map(rows.map((row) => [row.id, row]));
}

/** An account's cars in use. */
export function carsInUse(db: Queryable, ownerId: string, take: number) {
  return db.car.findMany({
    where: { ownerId, ...IN_USE },
    orderBy: { id: 'asc' },
    take,
    select: { id: true, name: true, modelId: true },
  });
}

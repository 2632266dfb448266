import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';

/** Runs of different setups in one session, in sums of the database. */

export interface ClassOfWorld extends ShownLabel {
  cruiseClassKey: string;
}

/** The runs of one setup in one session, weighted by 1/(v + u²). */
export interface SessionCell {
  carId: string;
  sessionId: string;
  setupId: string;
  runs: number;
  mean: number;
  /** 1/Σw */
  variance: number;
  /** Mean contribution of each input of the car or the day to ln of the runs. */
  shared: Record<string, number>;
}

/** The cells of a model's sessions in which more than one setup was driven. */
export async function sharedSessionCells(
  db: Queryable,
  of: ClassOfWorld & { modelId: string },
  runVariance: number,
): Promise<SessionCell[]> {
  // no run is known to a millionth, so the floor only keeps the division from failing
  const cells = await db.$queryRaw<(Omit<SessionCell, 'shared'> & { sums: Record<string, number> })[]>`
    WITH weighted AS (
      SELECT "carId", "sessionId", "setupId", "z", "parts", 1 / greatest(${runVariance}::float8 + "u" * "u", 1e-12) AS "w"
      FROM "CountedRun"
      WHERE "modelId" = ${of.modelId}::uuid AND "methodVersion" = ${of.methodVersion} AND "world" = ${of.world}
        AND "cruiseClassKey" = ${of.cruiseClassKey} AND "z" IS NOT NULL AND "u" IS NOT NULL
    ), cell AS (
      SELECT "carId", "sessionId", "setupId", count(*)::int AS "runs", sum("w" * "z") / sum("w") AS "mean",
        1 / sum("w") AS "variance", count(*) OVER (PARTITION BY "carId", "sessionId") AS "setups"
      FROM weighted GROUP BY "carId", "sessionId", "setupId"
    ), part AS (
      SELECT "carId", "sessionId", "setupId", concat_ws(' ', part->>'scope', part->>'input', part->>'key') AS "name",
        sum("w" * (part->>'contribution')::float8) AS "sum"
      FROM weighted, jsonb_array_elements(CASE jsonb_typeof("parts") WHEN 'array' THEN "parts" ELSE '[]' END) part
      WHERE part->>'scope' IN ('car', 'session') AND jsonb_typeof(part->'contribution') = 'number'
      GROUP BY 1, 2, 3, 4
    ), shared AS (
      SELECT "carId", "sessionId", "setupId", jsonb_object_agg("name", "sum") AS "sums" FROM part GROUP BY 1, 2, 3
    )
    SELECT "carId", "sessionId", "setupId", "runs", "mean", "variance", coalesce("sums", '{}') AS "sums"
    FROM cell LEFT JOIN shared USING ("carId", "sessionId", "setupId") WHERE "setups" > 1
    ORDER BY "sessionId", "setupId"`;
  return cells.map(({ sums, ...cell }) => ({
    ...cell,
    shared: Object.fromEntries(Object.entries(sums).map(([name, sum]) => [name, sum * cell.variance])),
  }));
}

/** The setups of a model that have a counted run in a class, normalised or not. */
export async function setupsDriven(db: Queryable, of: ClassOfWorld & { modelId: string }): Promise<string[]> {
  const { modelId, methodVersion, world, cruiseClassKey } = of;
  const rows = await db.countedRun.groupBy({
    by: ['setupId'],
    where: { modelId, methodVersion, world, cruiseClassKey },
  });
  return rows.map(({ setupId }) => setupId);
}

export interface PairedSessions {
  /** The latest. */
  sessionIds: string[];
  /** All sessions in which both were driven, and those in which the setup used less. */
  total: number;
  lower: number;
  /** ln of setup over baseline at a quarter, half and three quarters of the sessions; null without one. */
  quartilesLog: number[] | null;
}

/** The sessions in which two setups were both driven and normalised. */
export async function pairedSessions(
  db: Queryable,
  of: ClassOfWorld & { baselineId: string; setupId: string },
  take: number,
): Promise<PairedSessions> {
  const rows = await db.$queryRaw<
    { sessionIds: string[] | null; total: number; lower: number; quartilesLog: number[] | null }[]
  >`
    WITH side AS (
      SELECT "sessionId", "setupId", avg("z") AS "mean", max("day") AS "day"
      FROM "CountedRun"
      WHERE "setupId" IN (${of.baselineId}::uuid, ${of.setupId}::uuid) AND "methodVersion" = ${of.methodVersion}
        AND "world" = ${of.world} AND "cruiseClassKey" = ${of.cruiseClassKey}
        AND "z" IS NOT NULL AND "measuredWhPerKm" IS NOT NULL
      GROUP BY "sessionId", "setupId"
    ), pair AS (
      SELECT own."sessionId", own."day", own."mean" - baseline."mean" AS "difference"
      FROM side own JOIN side baseline ON baseline."sessionId" = own."sessionId"
      WHERE own."setupId" = ${of.setupId}::uuid AND baseline."setupId" = ${of.baselineId}::uuid
    )
    SELECT count(*)::int AS "total", (count(*) FILTER (WHERE "difference" < 0))::int AS "lower",
      percentile_cont(ARRAY[0.25, 0.5, 0.75]::float8[]) WITHIN GROUP (ORDER BY "difference") AS "quartilesLog",
      (SELECT array_agg("sessionId") FROM
        (SELECT "sessionId" FROM pair ORDER BY "day" DESC, "sessionId" DESC LIMIT ${take}) latest) AS "sessionIds"
    FROM pair`;
  const [row] = rows;
  return { ...(row ?? { total: 0, lower: 0, quartilesLog: null }), sessionIds: row?.sessionIds ?? [] };
}

/** By setup: the sessions that it shares with the baseline, and those of them in which it used less. */
export async function pairedCounts(
  db: Queryable,
  of: ClassOfWorld & { modelId: string; baselineId: string },
): Promise<Map<string, { total: number; lower: number }>> {
  const rows = await db.$queryRaw<{ setupId: string; total: number; lower: number }[]>`
    WITH side AS (
      SELECT "sessionId", "setupId", avg("z") AS "mean"
      FROM "CountedRun"
      WHERE "modelId" = ${of.modelId}::uuid AND "methodVersion" = ${of.methodVersion} AND "world" = ${of.world}
        AND "cruiseClassKey" = ${of.cruiseClassKey} AND "z" IS NOT NULL AND "measuredWhPerKm" IS NOT NULL
      GROUP BY "sessionId", "setupId"
    )
    SELECT own."setupId", count(*)::int AS "total",
      (count(*) FILTER (WHERE own."mean" < baseline."mean"))::int AS "lower"
    FROM side own JOIN side baseline ON baseline."sessionId" = own."sessionId"
    WHERE baseline."setupId" = ${of.baselineId}::uuid AND own."setupId" <> baseline."setupId"
    GROUP BY own."setupId"`;
  return new Map(rows.map(({ setupId, total, lower }) => [setupId, { total, lower }]));
}

import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';

/** What the page of a setup reads in sums of the runs that count in one class, however many they are. */

export interface SetupClass extends ShownLabel {
  setupId: string;
  cruiseClassKey: string;
}

export interface SetupClassCounts {
  runs: number;
  notNormalised: number;
  sessions: number;
  cars: number;
}

export async function countSetupClass(db: Queryable, of: SetupClass): Promise<SetupClassCounts> {
  const rows = await db.$queryRaw<SetupClassCounts[]>`
    SELECT count(*)::int AS "runs", count(*) FILTER (WHERE "z" IS NULL)::int AS "notNormalised",
      count(DISTINCT "sessionId")::int AS "sessions", count(DISTINCT "carId")::int AS "cars"
    FROM "CountedRun"
    WHERE "setupId" = ${of.setupId}::uuid AND "methodVersion" = ${of.methodVersion}
      AND "world" = ${of.world} AND "cruiseClassKey" = ${of.cruiseClassKey}`;
  return rows[0] ?? { runs: 0, notNormalised: 0, sessions: 0, cars: 0 };
}

export interface CarOnLoopRow {
  carId: string;
  loopId: string;
  loopName: string;
  testerName: string;
}

/** These cars of the class, and the others of their testers, on each of their loops: the latest run's first. */
export function carsBesideEachOther(
  db: Queryable,
  of: SetupClass,
  carIds: readonly string[],
): Promise<CarOnLoopRow[]> {
  return db.$queryRaw<CarOnLoopRow[]>`
    SELECT latest."carId", latest."loopId", loop."name" AS "loopName", tester."displayName" AS "testerName"
    FROM (
      SELECT DISTINCT ON ("carId", "loopId") "carId", "loopId", "testerId", "day", "number"
      FROM "CountedRun"
      WHERE "setupId" = ${of.setupId}::uuid AND "methodVersion" = ${of.methodVersion}
        AND "world" = ${of.world} AND "cruiseClassKey" = ${of.cruiseClassKey}
        AND "testerId" IN (SELECT "ownerId" FROM "Car" WHERE "id" = ANY(${[...carIds]}::uuid[]))
      ORDER BY "carId", "loopId", "day" DESC, "number" DESC
    ) latest
    JOIN "Loop" loop ON loop."id" = latest."loopId"
    JOIN "Account" tester ON tester."id" = latest."testerId"
    ORDER BY latest."day" DESC, latest."number" DESC`;
}

export interface DensityRow {
  runs: number;
  leastWhPerKm: number;
  mostWhPerKm: number;
  /** At shares 0.05, 0.25, 0.5, 0.75 and 0.95. */
  quantilesWhPerKm: number[];
  /** Runs in each of equally wide bins from the least to the most. */
  bins: number[];
}

/** How the normalised numbers of the class lie, in a fixed number of bins; undefined without any. */
export async function densityOfSetupClass(
  db: Queryable,
  of: SetupClass,
  binCount: number,
): Promise<DensityRow | undefined> {
  // One value alone has no width to part: the bins then span a thousandth of a Wh/km.
  const rows = await db.$queryRaw<(Omit<DensityRow, 'bins'> & { bin: number; inBin: number })[]>`
    WITH own AS (
      SELECT exp("z") AS "value" FROM "CountedRun"
      WHERE "setupId" = ${of.setupId}::uuid AND "methodVersion" = ${of.methodVersion}
        AND "world" = ${of.world} AND "cruiseClassKey" = ${of.cruiseClassKey} AND "z" IS NOT NULL
    ), ends AS (
      SELECT count(*)::int AS "runs", min("value") AS "leastWhPerKm",
        greatest(max("value"), min("value") + 0.001) AS "mostWhPerKm",
        percentile_cont(ARRAY[0.05, 0.25, 0.5, 0.75, 0.95]::float8[])
          WITHIN GROUP (ORDER BY "value") AS "quantilesWhPerKm"
      FROM own
    )
    SELECT ends.*, binned."bin", count(*)::int AS "inBin"
    FROM ends, LATERAL (
      SELECT least(width_bucket("value", ends."leastWhPerKm", ends."mostWhPerKm", ${binCount}::int),
        ${binCount}::int) AS "bin"
      FROM own
    ) binned
    GROUP BY ends."runs", ends."leastWhPerKm", ends."mostWhPerKm", ends."quantilesWhPerKm", binned."bin"`;
  const [first] = rows;
  if (first === undefined) return undefined;
  const bins = new Array<number>(binCount).fill(0);
  for (const { bin, inBin } of rows) bins[bin - 1] = inBin;
  const { runs, leastWhPerKm, mostWhPerKm, quantilesWhPerKm } = first;
  return { runs, leastWhPerKm, mostWhPerKm, quantilesWhPerKm, bins };
}

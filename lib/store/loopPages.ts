import { countedDays } from './countedDays';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';

/** What the page of a loop reads in sums of the runs that count on it, however many they are. */

/** Of twelve sectors of the compass from where the wind blew in the counted runs of a loop: how many and how fast. */
export async function windsOnLoop(db: Queryable, loopId: string, { world, methodVersion }: ShownLabel) {
  return db.$queryRaw<{ sector: number | null; runs: number; speedSum: number }[]>`
    SELECT CASE WHEN "windSpeedMps" > 0 THEN floor("windFromDeg" / 30 + 0.5)::int % 12 END AS "sector",
      count(*)::int AS "runs", coalesce(sum("windSpeedMps"), 0)::float8 AS "speedSum"
    FROM "CountedRun"
    WHERE "loopId" = ${loopId}::uuid AND "world" = ${world} AND "methodVersion" = ${methodVersion}
    GROUP BY 1`;
}

/** What was driven on a loop, in counts. */
export async function loopCounts(db: Queryable, loopId: string, { world, methodVersion }: ShownLabel) {
  const [counts] = await db.$queryRaw<LoopCounts[]>`
    SELECT count(*)::int AS "runs", count(DISTINCT "carId")::int AS "cars",
      count(DISTINCT "testerId")::int AS "testers", count(DISTINCT "setupId")::int AS "setups",
      count(DISTINCT ${countedDays('counted')})::int AS "days"
    FROM "CountedRun" counted
    WHERE "loopId" = ${loopId}::uuid AND "world" = ${world} AND "methodVersion" = ${methodVersion}`;
  const classes = await db.$queryRaw<{ label: string; runs: number }[]>`
    SELECT class."label", count(*)::int AS "runs"
    FROM "CountedRun" counted JOIN "CruiseClass" class ON class."key" = counted."cruiseClassKey"
    WHERE counted."loopId" = ${loopId}::uuid AND counted."world" = ${world}
      AND counted."methodVersion" = ${methodVersion}
    GROUP BY class."key" ORDER BY count(*) DESC, class."ordinal"`;
  return { counts: counts ?? { runs: 0, cars: 0, testers: 0, setups: 0, days: 0 }, classes };
}

export interface LoopCounts {
  runs: number;
  cars: number;
  testers: number;
  setups: number;
  days: number;
}

/**
 * Squares of ln(Wh/km) about the mean of their cell (setup, class and session), summed over the cells of a loop with
 * two runs or more. PostgreSQL updates the sum of squares value by value (Youngs and Cramer), so no digits cancel.
 */
export async function repeatedOnLoop(db: Queryable, loopId: string, { world, methodVersion }: ShownLabel) {
  const [found] = await db.$queryRaw<{ cells: number; dof: number; squares: number }[]>`
    SELECT count(*)::int AS "cells", coalesce(sum("runs" - 1), 0)::int AS "dof",
      coalesce(sum("squares"), 0)::float8 AS "squares"
    FROM (
      SELECT count(*) AS "runs", var_pop("z") * count(*) AS "squares"
      FROM "CountedRun"
      WHERE "loopId" = ${loopId}::uuid AND "world" = ${world} AND "methodVersion" = ${methodVersion}
        AND "z" IS NOT NULL
      GROUP BY "sessionId", "setupId", "cruiseClassKey"
      HAVING count(*) > 1
    ) cell`;
  return found ?? { cells: 0, dof: 0, squares: 0 };
}

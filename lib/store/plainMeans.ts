import { countedDays } from './countedDays';
import type { Queryable } from './database';
import type { ClassOfWorld } from './pairedRuns';

export interface PlainMeanFilter {
  /** °C, the lower end included, the upper not; null where it is open. */
  temperature: { fromC: number | null; belowC: number | null } | null;
  /** Label of the version of the protocol that a run was judged under. */
  protocol: string | null;
}

/** Plain means of a setup's counted runs, and what they are of. */
export interface PlainMean {
  setupId: string;
  runs: number;
  cars: number;
  testers: number;
  loops: number;
  days: number;
  /** exp of the mean of ln(Wh/km) at reference conditions. */
  normalisedWhPerKm: number;
  /** Mean as measured. */
  rawWhPerKm: number;
}

/** By setup: the normalised counted runs of a class that pass, in means; every run counts the same. */
export async function plainMeans(
  db: Queryable,
  of: ClassOfWorld,
  { temperature, protocol }: PlainMeanFilter,
): Promise<Map<string, PlainMean>> {
  const { fromC = null, belowC = null } = temperature ?? {};
  const rows = await db.$queryRaw<PlainMean[]>`
    SELECT counted."setupId", count(*)::int AS "runs", count(DISTINCT counted."carId")::int AS "cars",
      count(DISTINCT counted."testerId")::int AS "testers", count(DISTINCT counted."loopId")::int AS "loops",
      count(DISTINCT ${countedDays('counted')})::int AS "days", exp(avg(counted."z")) AS "normalisedWhPerKm",
      avg(counted."measuredWhPerKm") AS "rawWhPerKm"
    FROM "CountedRun" counted
    JOIN "Run" run ON run."id" = counted."runId"
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    JOIN "ProtocolVersion" version ON version."id" = revision."protocolVersionId"
    LEFT JOIN "Conditions" conditions ON conditions."revisionId" = revision."id"
    WHERE counted."world" = ${of.world} AND counted."methodVersion" = ${of.methodVersion}
      AND counted."cruiseClassKey" = ${of.cruiseClassKey}
      AND counted."z" IS NOT NULL AND counted."u" IS NOT NULL AND counted."measuredWhPerKm" IS NOT NULL
      AND (${fromC}::float8 IS NULL OR conditions."airTemperatureC" >= ${fromC}::float8)
      AND (${belowC}::float8 IS NULL OR conditions."airTemperatureC" < ${belowC}::float8)
      AND (${protocol}::text IS NULL OR version."label" = ${protocol}::text)
    GROUP BY counted."setupId"`;
  return new Map(rows.map((row) => [row.setupId, row]));
}

import type { RunQuantity } from '@/lib/run/fields/table';
import { dateText } from '@/lib/run/localDate';
import { readFitBasis } from '@/lib/stats/stored';
import type { Queryable } from './database';

/** Which runs a run is held against: never more than so many of each kind. */
const MOST_OF_A_KIND = 60;
const MOST_OWN_ENERGIES = 400;
const MOST_OWN_RUNS = 200;

export interface NeighbourRow {
  runNumber: number;
  testerId: string;
  carId: string;
  loopId: string;
  startedAt: Date;
  quantity: RunQuantity;
  value: number;
}

/** A run that asks. */
export interface Asking {
  runId: string;
  testerId: string;
  startedAt: Date;
  /** Energy of the trip, Wh; null where it states none. */
  tripEnergyWh: number | null;
  /** Only what was sent in before. */
  sentAt: Date;
}

/**
 * The readings of runs of the same tester about the same day, and of all runs whose energy is within a share of the own,
 * the nearest first; of each its latest revision that was there.
 */
export function neighbourReadings(db: Queryable, of: Asking, withinShare: number): Promise<NeighbourRow[]> {
  const { runId, testerId, startedAt, tripEnergyWh, sentAt } = of;
  const DAY_MS = 86_400_000;
  const [from, to] = [-2, 2].map((days) => new Date(startedAt.getTime() + days * DAY_MS)) as [Date, Date];
  const e = tripEnergyWh ?? 0;
  return db.$queryRaw<NeighbourRow[]>`
    WITH candidate AS (
      (SELECT run."id" FROM "Run" run
       WHERE run."testerId" = ${testerId}::uuid AND run."id" <> ${runId}::uuid
         AND run."localDate" BETWEEN ${from}::date AND ${to}::date
       ORDER BY abs(extract(epoch FROM run."localDate"::timestamp - ${startedAt}::timestamp)), run."number" DESC
       LIMIT ${MOST_OF_A_KIND})
      UNION
      (SELECT revision."runId" FROM "Reading" reading
       JOIN "RunRevision" revision ON revision."id" = reading."revisionId"
       WHERE reading."quantity" = 'tripEnergy' AND revision."runId" <> ${runId}::uuid
         AND reading."value" BETWEEN ${e * (1 - withinShare)}::float8 AND ${e * (1 + withinShare)}::float8
       ORDER BY abs(reading."value" - ${e}::float8), revision."submittedAt"
       LIMIT ${MOST_OF_A_KIND})
    )
    SELECT run."number" AS "runNumber", run."testerId"::text, run."carId"::text, run."loopId"::text,
      revision."startedAt", reading."quantity", reading."value"
    FROM candidate
    JOIN "Run" run ON run."id" = candidate."id"
    CROSS JOIN LATERAL (
      SELECT own."id", own."startedAt" FROM "RunRevision" own
      WHERE own."runId" = run."id" AND own."submittedAt" <= ${sentAt}
      ORDER BY own."number" DESC LIMIT 1) revision
    JOIN "Reading" reading ON reading."revisionId" = revision."id"
    WHERE run."status" NOT IN ('draft', 'rejected') AND run."carId" IS NOT NULL AND run."loopId" IS NOT NULL
    ORDER BY run."number", reading."quantity"`;
}

/** Energies as typed, of a tester's latest runs before one. */
export async function energiesAsTyped(
  db: Queryable,
  of: Pick<Asking, 'runId' | 'testerId' | 'sentAt'>,
): Promise<string[]> {
  const rows = await db.$queryRaw<{ enteredText: string }[]>`
    SELECT reading."enteredText"
    FROM "Run" run
    CROSS JOIN LATERAL (
      SELECT own."id" FROM "RunRevision" own
      WHERE own."runId" = run."id" AND own."submittedAt" <= ${of.sentAt}
      ORDER BY own."number" DESC LIMIT 1) revision
    JOIN "Reading" reading ON reading."revisionId" = revision."id"
      AND reading."quantity" IN ('tripEnergy', 'outboundEnergy', 'chargerEnergy')
    WHERE run."testerId" = ${of.testerId}::uuid AND run."id" <> ${of.runId}::uuid
      AND run."status" NOT IN ('draft', 'rejected')
    ORDER BY run."number" DESC, reading."quantity"
    LIMIT ${MOST_OWN_ENERGIES}`;
  return rows.map(({ enteredText }) => enteredText);
}

/** The latest counted runs of a class by testers or of a setup, by car, loop, day and setup. */
export async function countedRunsOf(
  db: Queryable,
  of: {
    world: string;
    methodVersion: string;
    cruiseClassKey: string;
    runId: string;
    sentAt: Date;
  } & ({ testerId: string | { in: string[] } } | { setupId: string }),
) {
  const { runId, sentAt, ...where } = of;
  const rows = await db.countedRun.findMany({
    where: {
      ...where,
      runId: { not: runId },
      z: { not: null },
      u: { not: null },
      run: { submittedAt: { lte: sentAt } },
    },
    // the day that was driven, as a rule must not turn on what its tester publishes of it
    orderBy: [{ run: { localDate: 'desc' } }, { number: 'desc' }],
    take: MOST_OWN_RUNS,
    select: {
      carId: true,
      loopId: true,
      setupId: true,
      z: true,
      u: true,
      run: { select: { localDate: true } },
    },
  });
  return rows.map(({ run, ...row }) => ({ ...row, day: dateText(run.localDate) }));
}

/**
 * What the current fit of a class knows of single runs: their variance beyond their known u², and which testers count as
 * one; null where it knows no variance.
 */
export async function runVarianceOf(
  db: Queryable,
  { cruiseClassKey, world }: { cruiseClassKey: string; world: string },
): Promise<{ v: number; clusters: readonly (readonly string[])[] } | null> {
  const [found] = await db.$queryRaw<{ v: number; basis: unknown }[]>`
    SELECT (fit."summary" #>> '{components,residual}')::float8 AS "v", fit."basis"
    FROM "Fit" fit JOIN "ComparisonGroup" grp ON grp."id" = fit."groupId"
    WHERE fit."isCurrent" AND grp."cruiseClassKey" = ${cruiseClassKey} AND grp."world" = ${world}
      AND jsonb_typeof(fit."summary" -> 'repeatability') = 'object'
      AND jsonb_typeof(fit."summary" #> '{components,residual}') = 'number'
    LIMIT 1`;
  return found === undefined ? null : { v: found.v, clusters: readFitBasis(found.basis)?.clusters ?? [] };
}

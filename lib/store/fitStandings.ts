import { readParts } from '@/lib/reduction/stored';
import type { WorldKey } from '@/lib/run/world';
import type { ModelStanding } from '@/lib/stats/modelStanding';
import { readEffects, readKeptSpread, readRankedRuns, readSetupStanding } from '@/lib/stats/stored';
import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

/** What the current fit of a group says of single runs, setups and models; earlier fits keep none of it. */

const BATCH = 5000;

/** Stores it in the transaction that publishes the fit, in place of what the fits before it said. */
export async function storeStandings(
  tx: Queryable,
  { groupId, fitId }: { groupId: string; fitId: string },
  models: Iterable<{ modelId: string; standing: ModelStanding }>,
): Promise<void> {
  const earlier = { fit: { groupId, id: { not: fitId } } };
  await tx.fitRun.deleteMany({ where: earlier });
  await tx.fitSetup.deleteMany({ where: earlier });
  await tx.fitModel.deleteMany({ where: earlier });
  for (const { modelId, standing } of models) {
    await tx.fitModel.create({
      data: { fitId, modelId, effects: json(standing.effects), standing: json(standing.all) },
      select: { fitId: true },
    });
    await tx.fitSetup.createMany({
      data: standing.setups.map((setup) => ({
        fitId,
        setupId: setup.setupId,
        standing: json(setup.standing),
        spread: json(setup.spread),
      })),
    });
    for (let from = 0; from < standing.runs.length; from += BATCH)
      await insertRuns(tx, fitId, standing.runs.slice(from, from + BATCH));
  }
}

/** One statement a batch, whatever the number of columns: as single values they would be too many for one. */
async function insertRuns(tx: Queryable, fitId: string, runs: ModelStanding['runs']): Promise<void> {
  await tx.$executeRaw`
    INSERT INTO "FitRun" ("fitId", "runId", "setupId", "leaveOneOut", "sd", "studentised", "p", "pHolm", "knowsCar",
      "knowsSession", "isOnlyOfCar", "isOnlyOfSession")
    SELECT ${fitId}::uuid, * FROM unnest(
      ${runs.map((run) => run.runId)}::uuid[], ${runs.map((run) => run.setupId)}::uuid[],
      ${runs.map((run) => run.leaveOneOut)}::float8[], ${runs.map((run) => run.sd)}::float8[],
      ${runs.map((run) => run.studentised)}::float8[], ${runs.map((run) => run.p)}::float8[],
      ${runs.map((run) => run.pHolm)}::float8[], ${runs.map((run) => run.knowsCar)}::boolean[],
      ${runs.map((run) => run.knowsSession)}::boolean[], ${runs.map((run) => run.isOnlyOfCar)}::boolean[],
      ${runs.map((run) => run.isOnlyOfSession)}::boolean[])`;
}

function json(value: object | null): Prisma.InputJsonObject {
  return JSON.parse(JSON.stringify(value ?? {})) as Prisma.InputJsonObject;
}

/** Whether a fit says anything of single runs: those of earlier releases do not. */
export async function hasStandings(db: Queryable, fitId: string): Promise<boolean> {
  return (await db.fitModel.findFirst({ where: { fitId }, select: { fitId: true } })) !== null;
}

/** What the fit says of one run; null where it was not made from it. */
export function fitRunOf(db: Queryable, fitId: string, runId: string) {
  return db.fitRun.findUnique({
    where: { fitId_runId: { fitId, runId } },
    select: {
      leaveOneOut: true,
      sd: true,
      studentised: true,
      p: true,
      pHolm: true,
      knowsCar: true,
      knowsSession: true,
      isOnlyOfCar: true,
      isOnlyOfSession: true,
    },
  });
}

/** Where a setup's runs lie; null where the fit has none of it, undefined where it cannot be read. */
export async function setupStandingOf(db: Queryable, fitId: string, setupId: string) {
  const found = await db.fitSetup.findUnique({
    where: { fitId_setupId: { fitId, setupId } },
    select: { standing: true },
  });
  return found && readSetupStanding(found.standing);
}

/** The cars, days and flagged runs of a setup; null where the fit has none of it, undefined where it cannot be read. */
export async function keptSpreadOf(db: Queryable, fitId: string, setupId: string) {
  const found = await db.fitSetup.findUnique({
    where: { fitId_setupId: { fitId, setupId } },
    select: { spread: true },
  });
  return found && readKeptSpread(found.spread);
}

/** A model's runs and its setups' effects; null where the fit has none of it. */
export async function modelStandingOf(db: Queryable, fitId: string, modelId: string) {
  const found = await db.fitModel.findUnique({
    where: { fitId_modelId: { fitId, modelId } },
    select: { effects: true, standing: true },
  });
  return found && { effects: readEffects(found.effects), all: readRankedRuns(found.standing) };
}

/**
 * Holm's adjusted p of one more run beside those of its setup in the fit: the largest of (m − j) p over it and the j
 * runs with smaller ones, m of them with it. Read from the index of p; one row comes back.
 */
export async function holmBeside(
  db: Queryable,
  { fitId, setupId, p }: { fitId: string; setupId: string; p: number },
): Promise<{ pHolm: number; among: number }> {
  const rows = await db.$queryRaw<{ pHolm: number; among: number }[]>`
    WITH own AS (
      SELECT count(*) + 1 AS "among" FROM "FitRun"
      WHERE "fitId" = ${fitId}::uuid AND "setupId" = ${setupId}::uuid AND "p" IS NOT NULL
    ), smaller AS (
      SELECT "p", row_number() OVER (ORDER BY "p") - 1 AS "before" FROM "FitRun"
      WHERE "fitId" = ${fitId}::uuid AND "setupId" = ${setupId}::uuid AND "p" < ${p}::float8
    )
    SELECT own."among"::int AS "among",
      least(1, greatest((own."among" - count(smaller."p")) * ${p}::float8,
        max((own."among" - smaller."before") * smaller."p"))) AS "pHolm"
    FROM own LEFT JOIN smaller ON true GROUP BY own."among"`;
  return rows[0] ?? { pHolm: Math.min(1, p), among: 1 };
}

/** The latest counted runs of a car in a group, but for one. */
export async function carResults(
  db: Queryable,
  of: { carId: string; cruiseClassKey: string; world: WorldKey; methodVersion: string },
  exceptNumber: number,
  take: number,
) {
  const rows = await db.countedRun.findMany({
    where: { ...of, number: { not: exceptNumber }, z: { not: null }, u: { not: null } },
    orderBy: { number: 'desc' },
    take,
    select: { setupId: true, carId: true, loopId: true, sessionId: true, z: true, u: true, parts: true },
  });
  return rows.flatMap(({ z, u, parts, ...run }) => {
    const read = readParts(parts);
    return z === null || u === null || read === undefined ? [] : [{ ...run, z, u, parts: read }];
  });
}

/** Current fits that say nothing of single runs, though they were made from some. */
export function fitsWithoutStandings(db: Queryable) {
  return db.fit.findMany({
    where: { isCurrent: true, runCount: { gt: 0 }, models: { none: {} } },
    select: { group: { select: { cruiseClassKey: true, world: true } } },
  });
}

import { readParts } from '@/lib/reduction/stored';
import type { WorldKey } from '@/lib/run/world';
import type { AcrossModels, CruiseSpeeds } from '@/lib/stats/factors/stored';
import { readAcrossModels, readCruiseSpeeds } from '@/lib/stats/factors/stored';
import { asJson } from './asJson';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

/** What is concluded across models and across classes, and the counted runs that it is concluded from. */

/** Writes what a fit says of factors, unless another has taken its place meanwhile. */
export async function publishFitFactors(
  tx: Queryable,
  { fitId, result, ...rest }: { fitId: string; computedAt: Date; durationMs: number; result: AcrossModels },
): Promise<boolean> {
  const data = { ...rest, result: asJson(result) };
  const isCurrent = await tx.fit.findFirst({ where: { id: fitId, isCurrent: true }, select: { id: true } });
  if (isCurrent === null) return false;
  await tx.fitFactors.upsert({ where: { fitId }, create: { fitId, ...data }, update: data });
  return true;
}

/** Of these fits, by fit; one that was not asked yet, or whose answer cannot be read, is not among them. */
export async function fitFactorsOf(db: Queryable, fitIds: readonly string[]) {
  const rows = await db.fitFactors.findMany({ where: { fitId: { in: [...fitIds] } } });
  return new Map(
    rows.flatMap(({ fitId, computedAt, result }) => {
      const read = readAcrossModels(result);
      return read === undefined ? [] : [[fitId, { ...read, computedAt }] as const];
    }),
  );
}

/** The current fits of a world, with the class of each. */
export function currentFitsOf(db: Queryable, world: WorldKey) {
  return db.fit.findMany({
    where: { isCurrent: true, runCount: { gt: 0 }, group: { world } },
    orderBy: { group: { cruiseClass: { ordinal: 'asc' } } },
    select: {
      id: true,
      runCount: true,
      fittedAt: true,
      group: { select: { cruiseClass: { select: { key: true, label: true, speedMps: true } } } },
    },
  });
}

export async function publishCruiseSpeed(
  tx: Queryable,
  {
    world,
    result,
    ...rest
  }: {
    world: WorldKey;
    methodVersion: string;
    computedAt: Date;
    durationMs: number;
    result: CruiseSpeeds;
  },
): Promise<void> {
  const data = { ...rest, result: asJson(result) };
  await tx.cruiseSpeed.upsert({ where: { world }, create: { world, ...data }, update: data });
}

/** Undefined where nothing was concluded yet, or where it cannot be read. */
export async function cruiseSpeedOf(db: Queryable, world: WorldKey) {
  const row = await db.cruiseSpeed.findUnique({ where: { world } });
  const read = readCruiseSpeeds(row?.result);
  return row === null || read === undefined
    ? undefined
    : { ...read, computedAt: row.computedAt, methodVersion: row.methodVersion };
}

/** How many counted runs each tester has of a setup in a class. */
export async function runsByTester(
  db: Queryable,
  of: ShownLabel & { cruiseClassKey: string; setupIds: readonly string[] },
) {
  const { setupIds, ...where } = of;
  const rows = await db.countedRun.groupBy({
    by: ['setupId', 'testerId'],
    where: { ...where, setupId: { in: [...setupIds] } },
    _count: true,
  });
  return rows.map(({ setupId, testerId, _count }) => ({ setupId, testerId, runs: _count }));
}

/** The setups of a world that one car or more drove in both of two classes, those with most cars first. */
export function setupsInTwoClasses(
  db: Queryable,
  { world, methodVersion, slowKey, fastKey }: ShownLabel & { slowKey: string; fastKey: string },
) {
  return db.$queryRaw<{ modelId: string; setupId: string; cars: number; isDelivered: boolean }[]>`
    WITH driven AS (
      SELECT DISTINCT "modelId", "setupId", "carId", "cruiseClassKey" FROM "CountedRun"
      WHERE "world" = ${world} AND "methodVersion" = ${methodVersion} AND "z" IS NOT NULL AND "u" IS NOT NULL
        AND "measuredWhPerKm" IS NOT NULL AND "cruiseClassKey" IN (${slowKey}, ${fastKey})
    ), pair AS (
      SELECT slow."modelId", slow."setupId", count(*)::int AS "cars"
      FROM driven slow JOIN driven fast ON fast."setupId" = slow."setupId" AND fast."carId" = slow."carId"
      WHERE slow."cruiseClassKey" = ${slowKey} AND fast."cruiseClassKey" = ${fastKey}
      GROUP BY slow."modelId", slow."setupId"
    )
    SELECT pair.*, NOT EXISTS (
      SELECT 1 FROM "SetupLevel" named JOIN "FactorLevel" level ON level."id" = named."levelId"
      WHERE named."setupId" = pair."setupId" AND NOT level."isBaseline") AS "isDelivered"
    FROM pair ORDER BY "cars" DESC, "isDelivered" DESC, "setupId"`;
}

const CURSOR_ROWS = 2000;

/** The counted runs of a setup in a class that have a number and of which it is known what they share. */
export async function runsOfSetup(
  db: Queryable,
  of: ShownLabel & { cruiseClassKey: string; setupId: string },
) {
  const runs = [];
  for (let after = 0; ; ) {
    const rows = await db.countedRun.findMany({
      where: { ...of, number: { gt: after } },
      orderBy: { number: 'asc' },
      take: CURSOR_ROWS,
      select: {
        number: true,
        carId: true,
        sessionId: true,
        testerId: true,
        z: true,
        u: true,
        measuredWhPerKm: true,
        parts: true,
      },
    });
    for (const { z, u, measuredWhPerKm, parts, ...row } of rows) {
      const read = readParts(parts);
      if (z === null || u === null || measuredWhPerKm === null || read === undefined) continue;
      runs.push({ ...row, z, u, parts: read });
    }
    if (rows.length < CURSOR_ROWS) return runs;
    after = rows.at(-1)?.number ?? after;
  }
}

const SIDE = {
  setupId: true,
  runs: true,
  cars: true,
  testers: true,
  estimateWhPerKm: true,
  setup: {
    select: {
      slug: true,
      title: true,
      model: {
        select: MODEL_NAME,
      },
    },
  },
} as const;

/** What a fit says of these setups, by setup: the two sides of pairs. */
export async function sidesOfFit(db: Queryable, fitId: string, setupIds: readonly string[]) {
  const rows = await db.estimate.findMany({
    where: { fitId, setupId: { in: [...setupIds] } },
    select: SIDE,
  });
  return new Map(rows.map((row) => [row.setupId, row]));
}

export type PairSide = NonNullable<
  Awaited<ReturnType<typeof sidesOfFit>> extends Map<string, infer Side> ? Side : never
>;

/** Setups with their models, by id. */
export async function setupsByIds(db: Queryable, ids: readonly string[]) {
  const rows = await db.setup.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, ...SIDE.setup.select },
  });
  return new Map(rows.map((row) => [row.id, row]));
}

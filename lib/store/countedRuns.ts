import type { CountedRow, WideResult } from '@/lib/reduction/countedRow';
import { readParts, readReduction } from '@/lib/reduction/stored';
import type { WorldKey } from '@/lib/run/world';
import { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { countsUnheld } from './holds';

/** One row a counted run and method version: the numbers that fits, lists and pages read. */

/** What a world shows. */
export interface ShownLabel {
  world: WorldKey;
  methodVersion: string;
}

/**
 * The wide record of approved runs that are not held, in order of their ids: of a world after one id, or those named. What the table of
 * counted runs is made from and checked against; nothing else reads numbers here.
 */
export async function wideResults(
  db: Queryable,
  methodVersion: string,
  of:
    | { world: WorldKey; afterId?: string | undefined; onlyMissing?: boolean }
    | { runIds: readonly string[] },
  take = 1,
): Promise<WideResult[]> {
  const [world, runIds] = 'runIds' in of ? [null, [...of.runIds]] : [of.world, null];
  const [afterId, onlyMissing] =
    'runIds' in of ? [null, false] : [of.afterId ?? null, of.onlyMissing ?? false];
  const found = await db.$queryRaw<(Omit<WideResult, 'result'> & { result: unknown })[]>`
    SELECT run."id" AS "runId", run."number", run."world", run."cruiseClassKey", run."setupId", setup."modelId",
      run."carId", run."sessionId", run."loopId", run."testerId",
      CASE tester."publishedDays" WHEN 'month' THEN date_trunc('month', session."localDate")::date
        ELSE session."localDate" END AS "day", tester."publishedDays" = 'month' AS "monthOnly", run."decidedAt",
      result."computedAt", result."measuredWhPerKm", result."normalisedWhPerKm", result."uWhPerKm",
      result."uRunRelative", result."effectiveDof", result."isNormalised", result."result",
      conditions."windSpeedMps", conditions."windFromDeg"
    FROM "Run" run
    JOIN "Setup" setup ON setup."id" = run."setupId"
    JOIN "Session" session ON session."id" = run."sessionId"
    JOIN "Account" tester ON tester."id" = run."testerId"
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    LEFT JOIN "Conditions" conditions ON conditions."revisionId" = revision."id"
    LEFT JOIN "Normalisation" result
      ON result."revisionId" = revision."id" AND result."methodVersion" = ${methodVersion}
    WHERE run."status" = 'approved' AND ${countsUnheld(Prisma.sql`run."id"`)}
      AND (${runIds}::uuid[] IS NULL OR run."id" = ANY(${runIds}::uuid[]))
      AND (${world}::text IS NULL OR run."world" = ${world}::text)
      AND (${afterId}::uuid IS NULL OR run."id" > ${afterId}::uuid)
      AND (NOT ${onlyMissing}::boolean OR NOT EXISTS (
        SELECT 1 FROM "CountedRun" counted
        WHERE counted."runId" = run."id" AND counted."methodVersion" = ${methodVersion}))
    ORDER BY run."id"
    LIMIT ${take}`;
  return found.map((row) => ({ ...row, result: readReduction(row.result) }));
}

/** Until the transaction ends nobody else decides on these runs, retracts or recomputes them. */
export async function lockRuns(tx: Queryable, runIds: readonly string[]): Promise<void> {
  await tx.$queryRaw`SELECT "id" FROM "Run" WHERE "id" = ANY(${[...runIds]}::uuid[]) ORDER BY "id" FOR UPDATE`;
}

/** Puts rows in place of those of the same run and version. */
export async function replaceCounted(tx: Queryable, rows: readonly CountedRow[]): Promise<void> {
  for (const methodVersion of new Set(rows.map((row) => row.methodVersion))) {
    const same = rows.filter((row) => row.methodVersion === methodVersion);
    await tx.countedRun.deleteMany({
      where: { methodVersion, runId: { in: same.map(({ runId }) => runId) } },
    });
  }
  await tx.countedRun.createMany({
    data: rows.map(({ parts, ...row }) => ({ ...row, parts: parts.map((part) => ({ ...part })) })),
  });
}

/** A run that no longer counts has no row under any version; whether it had one. */
export async function removeCounted(tx: Queryable, runId: string): Promise<boolean> {
  const { count } = await tx.countedRun.deleteMany({ where: { runId } });
  return count > 0;
}

export async function countedLabelOf(db: Queryable, world: WorldKey): Promise<string | undefined> {
  const label = await db.countedLabel.findUnique({ where: { world }, select: { methodVersion: true } });
  return label?.methodVersion;
}

/** Which version each world shows. */
export async function countedLabels(db: Queryable): Promise<Map<string, string>> {
  const labels = await db.countedLabel.findMany({ select: { world: true, methodVersion: true } });
  return new Map(labels.map(({ world, methodVersion }) => [world, methodVersion]));
}

/** The first label of a world; one that is there stays. */
export async function placeCountedLabel(
  db: Queryable,
  label: { world: WorldKey; methodVersion: string; since: Date },
): Promise<void> {
  await db.countedLabel.createMany({ data: label, skipDuplicates: true });
}

/** From one label to another; false where the world shows a third by now. */
export async function moveCountedLabel(
  tx: Queryable,
  world: WorldKey,
  from: string,
  to: { methodVersion: string; since: Date },
): Promise<boolean> {
  const moved = await tx.countedLabel.updateMany({ where: { world, methodVersion: from }, data: to });
  return moved.count === 1;
}

/** Rows of versions that the world shows no more; the last one's stay for readers who looked up its label just before. */
export async function dropOtherLabels(
  tx: Queryable,
  world: WorldKey,
  keep: readonly string[],
): Promise<void> {
  await tx.countedRun.deleteMany({ where: { world, methodVersion: { notIn: [...keep] } } });
}

/** Approved runs of a world that are not held, without a row under the version. */
export async function countUncounted(db: Queryable, world: WorldKey, methodVersion: string): Promise<number> {
  return db.run.count({
    where: {
      status: 'approved',
      world,
      countedRuns: { none: { methodVersion } },
      holds: { none: { liftedAt: null } },
    },
  });
}

/** The version that most approved revisions of a world have a result under, the newest of equals. */
export async function mostUsedLabel(db: Queryable, world: WorldKey): Promise<string | undefined> {
  const rows = await db.$queryRaw<{ methodVersion: string }[]>`
    SELECT result."methodVersion"
    FROM "Run" run
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    JOIN "Normalisation" result ON result."revisionId" = revision."id"
    WHERE run."status" = 'approved' AND run."world" = ${world}
    GROUP BY result."methodVersion"
    ORDER BY count(*) DESC, max(result."computedAt") DESC
    LIMIT 1`;
  return rows[0]?.methodVersion;
}

export interface CountedFilter {
  world: WorldKey;
  methodVersion: string;
  cruiseClassKey?: string;
  modelId?: string;
}

const COUNTED = {
  runId: true,
  number: true,
  cruiseClassKey: true,
  setupId: true,
  modelId: true,
  carId: true,
  sessionId: true,
  loopId: true,
  testerId: true,
  day: true,
  monthOnly: true,
  measuredWhPerKm: true,
  z: true,
  u: true,
} as const;

const CURSOR_ROWS = 2000;

/** All counted runs that match, by number. */
export function countedRuns(db: Queryable, filter: CountedFilter) {
  return byNumber((after) =>
    db.countedRun.findMany({
      where: { ...filter, number: { gt: after } },
      orderBy: { number: 'asc' },
      take: CURSOR_ROWS,
      select: COUNTED,
    }),
  );
}

/** The same with what each has in common with others; undefined where that cannot be read. */
export function countedRunsWithParts(db: Queryable, filter: CountedFilter) {
  return byNumber(async (after) => {
    const rows = await db.countedRun.findMany({
      where: { ...filter, number: { gt: after } },
      orderBy: { number: 'asc' },
      take: CURSOR_ROWS,
      select: { ...COUNTED, parts: true },
    });
    return rows.map(({ parts, ...run }) => ({ ...run, parts: readParts(parts) }));
  });
}

/** Batches by keyset, one after the other: no more than one is in hand of the database. */
async function* byNumber<Row extends { number: number }>(batchAfter: (number: number) => Promise<Row[]>) {
  let after = 0;
  for (;;) {
    const rows = await batchAfter(after);
    yield* rows;
    if (rows.length < CURSOR_ROWS) return;
    after = rows.at(-1)?.number ?? after;
  }
}

export async function hasCounted(
  db: Queryable,
  filter: CountedFilter,
  exceptNumber?: number,
): Promise<boolean> {
  const except = exceptNumber === undefined ? {} : { number: { not: exceptNumber } };
  const where = { ...filter, ...except };
  return (await db.countedRun.findFirst({ where, select: { runId: true } })) !== null;
}

/** Whether a run of the world began or ceased to count, or was computed anew, at or after a time. */
export async function hasChangedSince(db: Queryable, world: WorldKey, since: Date): Promise<boolean> {
  const counted = await db.countedRun.findFirst({
    where: { world, countedAt: { gte: since } },
    select: { runId: true },
  });
  if (counted !== null) return true;
  const held = await db.hold.findFirst({
    where: { run: { world }, placedAt: { gte: since } },
    select: { id: true },
  });
  if (held !== null) return true;
  const retracted = await db.retraction.findFirst({
    where: { run: { world }, retractedAt: { gte: since } },
    select: { runId: true },
  });
  return retracted !== null;
}

/** The classes in which a world has runs that count, and the models. */
export async function countedSubjects(db: Queryable, { world, methodVersion }: ShownLabel) {
  const where = { world, methodVersion };
  const [classes, models] = await Promise.all([
    db.countedRun.groupBy({ by: ['cruiseClassKey'], where, orderBy: { cruiseClassKey: 'asc' } }),
    db.countedRun.groupBy({ by: ['modelId'], where, orderBy: { modelId: 'asc' } }),
  ]);
  return {
    cruiseClassKeys: classes.map(({ cruiseClassKey }) => cruiseClassKey),
    modelIds: models.map(({ modelId }) => modelId),
  };
}

/** Whole rows of these runs under one version, by run. */
export async function countedRowsOf(db: Queryable, runIds: readonly string[], methodVersion: string) {
  const rows = await db.countedRun.findMany({ where: { runId: { in: [...runIds] }, methodVersion } });
  return new Map(rows.map((row) => [row.runId, row]));
}

export function countCounted(db: Queryable, filter: CountedFilter): Promise<number> {
  return db.countedRun.count({ where: { ...filter } });
}

import type { Queryable } from './database';

/** What hangs on a loop, and its move to another one. */

export function loopToMerge(db: Queryable, by: { slug: string } | { id: string }) {
  return db.loop.findUnique({
    where: { ...by, mergedIntoId: null },
    select: {
      id: true,
      slug: true,
      name: true,
      world: true,
      lengthM: true,
      lengthUncertaintyM: true,
      postedLimitMps: true,
      hiddenAt: true,
    },
  });
}

export type LoopToMerge = NonNullable<Awaited<ReturnType<typeof loopToMerge>>>;

/** The loop that a loop was merged into; itself where it was not. */
export async function currentLoopId(db: Queryable, id: string): Promise<string> {
  const loop = await db.loop.findUnique({ where: { id }, select: { mergedIntoId: true } });
  return loop?.mergedIntoId ?? id;
}

export interface HangingOnLoop {
  runs: number;
  counted: number;
  sessions: number;
  /** Days of a car that both loops know: they become one session. */
  joined: number;
}

export async function hangingOnLoop(db: Queryable, fromId: string, toId: string): Promise<HangingOnLoop> {
  const [counts] = await db.$queryRaw<HangingOnLoop[]>`
    SELECT (SELECT count(*)::int FROM "Run" WHERE "loopId" = ${fromId}::uuid) AS "runs",
      (SELECT count(DISTINCT "runId")::int FROM "CountedRun" WHERE "loopId" = ${fromId}::uuid) AS "counted",
      (SELECT count(*)::int FROM "Session" WHERE "loopId" = ${fromId}::uuid) AS "sessions",
      (SELECT count(*)::int FROM "Session" one JOIN "Session" other
        ON other."carId" = one."carId" AND other."localDate" = one."localDate" AND other."loopId" = ${toId}::uuid
        WHERE one."loopId" = ${fromId}::uuid) AS "joined"`;
  return counts ?? { runs: 0, counted: 0, sessions: 0, joined: 0 };
}

/** What is concluded anew when counted runs of a loop move. */
export async function conclusionsOnLoop(db: Queryable, loopId: string) {
  const rows = await db.countedRun.groupBy({
    by: ['cruiseClassKey', 'world', 'modelId'],
    where: { loopId },
    orderBy: [{ world: 'asc' }, { cruiseClassKey: 'asc' }, { modelId: 'asc' }],
  });
  return rows.map(({ cruiseClassKey, world, modelId }) => ({ cruiseClassKey, world, setup: { modelId } }));
}

/** All runs of a loop, held until the transaction ends. */
export async function lockRunsOnLoop(tx: Queryable, loopId: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT "id"::text AS "id" FROM "Run" WHERE "loopId" = ${loopId}::uuid ORDER BY "id" FOR UPDATE`;
  return rows.map(({ id }) => id);
}

/** The worlds and versions under which runs have a counted row. */
export async function countedUnder(db: Queryable, runIds: readonly string[]) {
  const rows = await db.countedRun.groupBy({
    by: ['world', 'methodVersion'],
    where: { runId: { in: [...runIds] } },
    orderBy: [{ world: 'asc' }, { methodVersion: 'asc' }],
  });
  return rows.map(({ world, methodVersion }) => ({ world, methodVersion }));
}

/**
 * Moves sessions, runs, counted rows and drafts. Revisions and their snapshots stay as they are: they name the loop that
 * was driven by the values that it had.
 */
export async function moveToLoop(
  tx: Queryable,
  { fromId, toId, runIds }: { fromId: string; toId: string; runIds: readonly string[] },
): Promise<void> {
  const ids = [...runIds];
  await tx.$executeRaw`
    UPDATE "Run" SET "sessionId" = other."id" FROM "Session" one JOIN "Session" other
      ON other."carId" = one."carId" AND other."localDate" = one."localDate" AND other."loopId" = ${toId}::uuid
    WHERE "Run"."sessionId" = one."id" AND one."loopId" = ${fromId}::uuid`;
  await tx.$executeRaw`
    DELETE FROM "Session" one USING "Session" other
    WHERE one."loopId" = ${fromId}::uuid AND other."loopId" = ${toId}::uuid
      AND other."carId" = one."carId" AND other."localDate" = one."localDate"`;
  await tx.session.updateMany({ where: { loopId: fromId }, data: { loopId: toId } });
  await tx.run.updateMany({ where: { loopId: fromId }, data: { loopId: toId } });
  await tx.$executeRaw`
    UPDATE "Run" SET "draft" = jsonb_set("draft", '{loopId}', to_jsonb(${toId}::text))
    WHERE "status" IN ('draft', 'changesAsked') AND "draft"->>'loopId' = ${fromId}::text`;
  await tx.$executeRaw`
    UPDATE "CountedRun" SET "loopId" = run."loopId", "sessionId" = run."sessionId"
    FROM "Run" run WHERE run."id" = "CountedRun"."runId" AND run."id" = ANY(${ids}::uuid[])`;
}

/** False where it was merged a moment ago. What was merged into it before leads to the other as well. */
export async function markMerged(tx: Queryable, fromId: string, toId: string): Promise<boolean> {
  const { count } = await tx.loop.updateMany({
    where: { id: fromId, mergedIntoId: null },
    data: { mergedIntoId: toId },
  });
  await tx.loop.updateMany({ where: { mergedIntoId: fromId }, data: { mergedIntoId: toId } });
  return count === 1;
}

import { z } from 'zod';
import { Prisma } from '@/prisma/generated/client';
import { lockRuns } from './countedRuns';
import type { Queryable } from './database';

/** What merges of loops, cars, levels and models have in common. */

const INTO = { mergedIntoId: true } as const;
const LED_ON = {
  loopId: (db: Queryable, id: string) => db.loop.findUnique({ where: { id }, select: INTO }),
  carId: (db: Queryable, id: string) => db.car.findUnique({ where: { id }, select: INTO }),
  setupId: (db: Queryable, id: string) => db.setup.findUnique({ where: { id }, select: INTO }),
} as const;

type LedOn = keyof typeof LED_ON;

/**
 * A phone, a spreadsheet or an old record may name a loop, a car or a setup that was merged since: it is the one that it
 * was merged into.
 */
export async function onCurrentThings<Named extends Partial<Record<LedOn, string>>>(
  db: Queryable,
  named: Named,
): Promise<Named> {
  const led = await Promise.all(
    Object.entries(LED_ON).map(async ([field, find]) => {
      const { data: id } = z.uuid().safeParse(named[field as LedOn]);
      const into = id === undefined ? null : ((await find(db, id))?.mergedIntoId ?? null);
      return into === null ? [] : [[field, into] as const];
    }),
  );
  return { ...named, ...Object.fromEntries(led.flat()) };
}

/** The thing whose runs move, by the columns that runs and counted rows name it by. */
export type Hanging = { loopId: string } | { carId: string } | { setupId: { in: string[] } };

export interface HangingRuns {
  runs: number;
  counted: number;
}

export async function hangingRuns(db: Queryable, of: Hanging): Promise<HangingRuns> {
  const [runs, counted] = await Promise.all([
    db.run.count({ where: of }),
    db.run.count({ where: { ...of, countedRuns: { some: {} } } }),
  ]);
  return { runs, counted };
}

/** What is concluded anew when counted runs of a thing move. */
export async function conclusionsOf(db: Queryable, of: Hanging) {
  const rows = await db.countedRun.groupBy({
    by: ['cruiseClassKey', 'world', 'modelId'],
    where: of,
    orderBy: [{ world: 'asc' }, { cruiseClassKey: 'asc' }, { modelId: 'asc' }],
  });
  return rows.map(({ cruiseClassKey, world, modelId }) => ({ cruiseClassKey, world, setup: { modelId } }));
}

export type Conclusion = Awaited<ReturnType<typeof conclusionsOf>>[number];

/** All runs of a thing, held until the transaction ends. */
export async function lockRunsOf(tx: Queryable, of: Hanging): Promise<string[]> {
  const rows = await tx.run.findMany({ where: of, orderBy: { id: 'asc' }, select: { id: true } });
  const ids = rows.map(({ id }) => id);
  await lockRuns(tx, ids);
  return ids;
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

export type SessionSide = 'loop' | 'car';

const SIDES = {
  loop: { own: Prisma.sql`"loopId"`, other: Prisma.sql`"carId"` },
  car: { own: Prisma.sql`"carId"`, other: Prisma.sql`"loopId"` },
} as const;

/** Days that the two have in common: `one` is of what goes, `other` of what stays. */
function sameDay(side: SessionSide, fromId: string, toId: string): Prisma.Sql {
  const { own, other } = SIDES[side];
  return Prisma.sql`one.${own} = ${fromId}::uuid AND other.${own} = ${toId}::uuid
    AND other.${other} = one.${other} AND other."localDate" = one."localDate"`;
}

export interface HangingSessions {
  sessions: number;
  /** Days that both know: they become one session. */
  joined: number;
}

export async function hangingSessions(
  db: Queryable,
  side: SessionSide,
  fromId: string,
  toId: string,
): Promise<HangingSessions> {
  const [counts] = await db.$queryRaw<HangingSessions[]>`
    SELECT (SELECT count(*)::int FROM "Session" WHERE ${SIDES[side].own} = ${fromId}::uuid) AS "sessions",
      (SELECT count(*)::int FROM "Session" one, "Session" other WHERE ${sameDay(side, fromId, toId)}) AS "joined"`;
  return counts ?? { sessions: 0, joined: 0 };
}

/** Sessions move; one of a day that both know becomes that of what stays. */
export async function moveSessions(
  tx: Queryable,
  side: SessionSide,
  fromId: string,
  toId: string,
): Promise<void> {
  const { own } = SIDES[side];
  await tx.$executeRaw`
    UPDATE "Run" SET "sessionId" = other."id" FROM "Session" one, "Session" other
    WHERE "Run"."sessionId" = one."id" AND ${sameDay(side, fromId, toId)}`;
  await tx.$executeRaw`DELETE FROM "Session" one USING "Session" other WHERE ${sameDay(side, fromId, toId)}`;
  await tx.$executeRaw`UPDATE "Session" SET ${own} = ${toId}::uuid WHERE ${own} = ${fromId}::uuid`;
}

/** Drafts and the sheets of days name what stays. */
export async function moveTyped(
  tx: Queryable,
  field: 'loopId' | 'carId' | 'setupId',
  fromId: string,
  toId: string,
): Promise<void> {
  await tx.$executeRaw`
    UPDATE "Run" SET "draft" = jsonb_set("draft", ARRAY[${field}::text], to_jsonb(${toId}::text))
    WHERE "status" IN ('draft', 'changesAsked') AND "draft"->>${field}::text = ${fromId}::text`;
  await tx.$executeRaw`
    UPDATE "SessionSheet" SET "shared" = jsonb_set("shared", ARRAY[${field}::text], to_jsonb(${toId}::text))
    WHERE "shared"->>${field}::text = ${fromId}::text`;
}

/** Plans of studies that name something by its id name another. */
export async function movePlanned(tx: Queryable, fromId: string, toId: string): Promise<void> {
  await tx.$executeRaw`
    UPDATE "StudyVersion" SET "plan" = replace("plan"::text, ${fromId}::text, ${toId}::text)::jsonb
    WHERE "plan"::text LIKE '%' || ${fromId}::text || '%'`;
}

/** Counted rows say of whom they are what their runs say. */
export async function countedFollow(tx: Queryable, runIds: readonly string[]): Promise<void> {
  await tx.$executeRaw`
    UPDATE "CountedRun" SET "loopId" = run."loopId", "sessionId" = run."sessionId", "carId" = run."carId",
      "setupId" = run."setupId", "modelId" = setup."modelId"
    FROM "Run" run JOIN "Setup" setup ON setup."id" = run."setupId"
    WHERE run."id" = "CountedRun"."runId" AND run."id" = ANY(${[...runIds]}::uuid[])`;
}

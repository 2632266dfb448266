import { readSaid } from '@/lib/protocol/stored';
import { FindingOutcome, Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import type { KeptFinding } from './correctionRuns';
import type { Queryable } from './database';
import { type Place, readingOrder } from './keyset';
import { MODEL_NAME } from './names';

/** What drafts of the protocol would say of all approved runs. */

export type KeptOutcome = KeptFinding['outcome'];

export interface ApprovedRun {
  runId: string;
  baseId: string;
  world: string;
  cruiseClassKey: string;
  setupId: string | null;
}

/** Runs that count, with the revision that does, in order of their ids, after the one named. */
export function approvedRuns(
  db: Queryable,
  afterRunId: string | undefined,
  take: number,
): Promise<ApprovedRun[]> {
  return db.$queryRaw<ApprovedRun[]>`
    SELECT run."id"::text AS "runId", base."id"::text AS "baseId", run."world",
      coalesce(run."cruiseClassKey", '') AS "cruiseClassKey", run."setupId"::text AS "setupId"
    FROM "Run" run
    JOIN "RunRevision" base ON base."runId" = run."id" AND base."number" = run."approvedRevision"
    WHERE run."status" = 'approved'
      AND (${afterRunId ?? null}::uuid IS NULL OR run."id" > ${afterRunId ?? null}::uuid)
    ORDER BY run."id"
    LIMIT ${take}`;
}

export function countApprovedRuns(db: Queryable): Promise<number> {
  return db.run.count({ where: { status: 'approved', approvedRevision: { not: null } } });
}

export function dryRunOf(db: Queryable, draftId: string) {
  return db.dryRun.findUnique({
    where: { draftId },
    select: {
      revision: true,
      askedAt: true,
      finishedAt: true,
      against: { select: { id: true, label: true } },
    },
  });
}

/** In the place of an earlier one. */
export async function beginDryRun(
  tx: Queryable,
  dryRun: { draftId: string; revision: number; againstId: string; askedById: string; askedAt: Date },
): Promise<void> {
  await tx.dryRun.deleteMany({ where: { draftId: dryRun.draftId } });
  await tx.dryRun.create({ data: dryRun, select: { draftId: true } });
}

/** Broken off and started again, it begins anew, with the draft as it is then. */
export async function emptyDryRun(tx: Queryable, draftId: string, revision: number): Promise<void> {
  await tx.dryRun.updateMany({ where: { draftId }, data: { revision } });
  await tx.dryRunChange.deleteMany({ where: { draftId } });
  await tx.dryRunResult.deleteMany({ where: { draftId } });
}

export interface NewDryRunResult {
  number: number;
  runId: string;
  world: string;
  cruiseClassKey: string;
  setupId: string | null;
  before: KeptOutcome | null;
  after: KeptOutcome | null;
  changes: readonly {
    ruleId: string;
    before: KeptOutcome | null;
    after: KeptOutcome | null;
    sentence: string;
    said?: object | undefined;
  }[];
}

/** Nothing where a newer dry run of the draft was asked for meanwhile: the rows would be of two. */
export async function insertDryRunResults(
  tx: Queryable,
  of: { draftId: string; askedAt: Date },
  results: readonly NewDryRunResult[],
): Promise<boolean> {
  if (!(await holdsDryRun(tx, of))) return false;
  const { draftId } = of;
  await tx.dryRunResult.createMany({
    data: results.map(({ changes: _, ...result }) => ({ draftId, ...result })),
  });
  await tx.dryRunChange.createMany({
    data: results.flatMap(({ number, changes }) =>
      changes.map(({ said, ...change }) => ({
        draftId,
        number,
        ...change,
        ...(said === undefined ? {} : { said: asJson(said) }),
      })),
    ),
  });
  return true;
}

async function holdsDryRun(tx: Queryable, { draftId, askedAt }: { draftId: string; askedAt: Date }) {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT 1 FROM "DryRun" WHERE "draftId" = ${draftId}::uuid AND "askedAt" = ${askedAt} FOR UPDATE`;
  return rows.length === 1;
}

export async function finishDryRun(
  tx: Queryable,
  { draftId, askedAt }: { draftId: string; askedAt: Date },
  finishedAt: Date,
): Promise<void> {
  await tx.dryRun.updateMany({ where: { draftId, askedAt }, data: { finishedAt } });
}

/** So many runs of a world went from one worst outcome to another. */
export interface Turned {
  before: KeptOutcome | null;
  after: KeptOutcome | null;
  runs: number;
}

export function turnedByWorld(db: Queryable, draftId: string) {
  return db.$queryRaw<(Turned & { world: string })[]>`
    SELECT "world", "before", "after", count(*)::int AS "runs" FROM "DryRunResult"
    WHERE "draftId" = ${draftId}::uuid GROUP BY 1, 2, 3 ORDER BY 1, 2, 3`;
}

export function turnedByRule(db: Queryable, draftId: string, world: string) {
  return db.$queryRaw<(Turned & { ruleId: string })[]>`
    SELECT change."ruleId", change."before", change."after", count(*)::int AS "runs"
    FROM "DryRunChange" change
    JOIN "DryRunResult" result ON result."draftId" = change."draftId" AND result."number" = change."number"
    WHERE change."draftId" = ${draftId}::uuid AND result."world" = ${world}
    GROUP BY 1, 2, 3 ORDER BY 1, 2, 3`;
}

export function turnedByClass(db: Queryable, draftId: string, world: string) {
  return db.$queryRaw<(Turned & { cruiseClassKey: string })[]>`
    SELECT "cruiseClassKey", "before", "after", count(*)::int AS "runs" FROM "DryRunResult"
    WHERE "draftId" = ${draftId}::uuid AND "world" = ${world} AND "before" IS DISTINCT FROM "after"
    GROUP BY 1, 2, 3 ORDER BY 1, 2, 3`;
}

/** The setups with most runs that turn. */
export async function turnedBySetup(db: Queryable, draftId: string, world: string, take: number) {
  const rows = await db.$queryRaw<{ setupId: string; fails: number; cautions: number; passes: number }[]>`
    SELECT setup."id"::text AS "setupId",
      count(*) FILTER (WHERE result."after" = 'fail')::int AS "fails",
      count(*) FILTER (WHERE result."after" = 'caution')::int AS "cautions",
      count(*) FILTER (WHERE result."after" = 'pass')::int AS "passes"
    FROM "DryRunResult" result JOIN "Setup" setup ON setup."id" = result."setupId"
    WHERE result."draftId" = ${draftId}::uuid AND result."world" = ${world}
      AND result."before" IS DISTINCT FROM result."after"
    GROUP BY setup."id" ORDER BY count(*) DESC, setup."title", setup."id" LIMIT ${take}`;
  const setups = await db.setup.findMany({
    where: { id: { in: rows.map(({ setupId }) => setupId) } },
    select: { id: true, title: true, slug: true, model: { select: MODEL_NAME } },
  });
  const named = new Map(setups.map((setup) => [setup.id, setup]));
  return rows.flatMap((row) => {
    const setup = named.get(row.setupId);
    return setup === undefined ? [] : { ...row, title: setup.title, slug: setup.slug, model: setup.model };
  });
}

export interface TurnedFilter {
  draftId: string;
  world: string;
  /** Runs of which this rule says something else; otherwise those whose worst outcome is another. */
  ruleId?: string | undefined;
  /** By the rule, or of the whole run, by the draft. */
  after?: string | undefined;
  cruiseClassKey?: string | undefined;
  setupId?: string | undefined;
}

/** In order of their numbers. */
export async function listTurned(
  db: Queryable,
  { draftId, world, ruleId, after, cruiseClassKey, setupId }: TurnedFilter,
  place: Place<number> | undefined,
  take: number,
) {
  const outcome = Object.values(FindingOutcome).find((each) => each === after);
  const isBefore = place?.side === 'before';
  const beyond =
    place === undefined
      ? Prisma.empty
      : Prisma.sql`AND result."number" ${isBefore ? Prisma.sql`<` : Prisma.sql`>`} ${place.key}`;
  const turned =
    ruleId === undefined
      ? Prisma.sql`result."before" IS DISTINCT FROM result."after"
          ${outcome === undefined ? Prisma.empty : Prisma.sql`AND result."after" = ${outcome}::"FindingOutcome"`}`
      : Prisma.sql`EXISTS (SELECT 1 FROM "DryRunChange" change
          WHERE change."draftId" = result."draftId" AND change."number" = result."number" AND change."ruleId" = ${ruleId}
          ${outcome === undefined ? Prisma.empty : Prisma.sql`AND change."after" = ${outcome}::"FindingOutcome"`})`;
  const rows = await db.$queryRaw<
    {
      number: number;
      before: KeptOutcome | null;
      after: KeptOutcome | null;
      cruiseClassKey: string;
      setup: string | null;
      localDate: Date | null;
    }[]
  >`
    SELECT result."number", result."before", result."after", result."cruiseClassKey", setup."title" AS "setup", run."localDate"
    FROM "DryRunResult" result
    JOIN "Run" run ON run."id" = result."runId"
    LEFT JOIN "Setup" setup ON setup."id" = result."setupId"
    WHERE result."draftId" = ${draftId}::uuid AND result."world" = ${world} AND ${turned}
      ${cruiseClassKey === undefined ? Prisma.empty : Prisma.sql`AND result."cruiseClassKey" = ${cruiseClassKey}`}
      ${setupId === undefined ? Prisma.empty : Prisma.sql`AND result."setupId" = ${setupId}::uuid`}
      ${beyond}
    ORDER BY result."number" ${readingOrder(place, 'asc') === 'asc' ? Prisma.sql`ASC` : Prisma.sql`DESC`}
    LIMIT ${take}`;
  const changes = await db.dryRunChange.findMany({
    where: { draftId, number: { in: rows.map(({ number }) => number) } },
    orderBy: [{ number: 'asc' }, { ruleId: 'asc' }],
    select: { number: true, ruleId: true, before: true, after: true, sentence: true, said: true },
  });
  return rows.map((row) => ({
    ...row,
    changes: changes
      .filter(({ number }) => number === row.number)
      .map(({ number: _, said, ...change }) => ({ ...change, said: readSaid(said) })),
  }));
}

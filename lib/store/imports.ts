import type { ImportLoop } from '@/lib/capture/sheet/importNames';
import type { ImportState } from '@/lib/capture/sheet/importReport';
import { readImportReport, readImportState, readSheetReading } from '@/lib/capture/stored';
import { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import { IN_USE } from './cars';
import type { Queryable } from './database';
import { LISTED } from './loops';
import { UNMERGED } from './models';

export function insertImport(
  db: Queryable,
  batch: { byId: string; fileName: string; rowsRead: number; report: object; at: Date },
) {
  const { report, at, ...rest } = batch;
  return db.importBatch.create({
    data: {
      ...rest,
      mode: '',
      rowsMade: 0,
      rowsRefused: 0,
      report: asJson(report),
      createdAt: at,
    },
    select: { id: true },
  });
}

/** One import; its report is undefined where it cannot be read. */
export async function importById(db: Queryable, id: string) {
  const found = await db.importBatch.findUnique({
    where: { id },
    select: {
      id: true,
      byId: true,
      fileName: true,
      mode: true,
      rowsRead: true,
      rowsMade: true,
      rowsRefused: true,
      report: true,
      createdAt: true,
      undoneAt: true,
    },
  });
  return found && { ...found, report: readImportReport(found.report) };
}

export type StoredImport = NonNullable<Awaited<ReturnType<typeof importById>>>;

export interface ImportListed {
  id: string;
  fileName: string;
  /** Undefined where its report cannot be read. */
  state: ImportState | undefined;
  rowsRead: number;
  rowsMade: number;
  createdAt: Date;
}

/** A tester's imports, newest first. Reports can be long, so only the state is taken out of them. */
export async function importsOf(db: Queryable, byId: string, limit: number): Promise<ImportListed[]> {
  const rows = await db.$queryRaw<(Omit<ImportListed, 'state'> & { state: unknown })[]>`
    SELECT "id", "fileName", "report"->>'state' AS "state", "rowsRead", "rowsMade", "createdAt"
    FROM "ImportBatch" WHERE "byId" = ${byId}::uuid ORDER BY "id" DESC LIMIT ${limit}`;
  return rows.map((row) => ({ ...row, state: readImportState(row.state) }));
}

/** How far the background is, without the long report. */
export async function importProgress(db: Queryable, id: string) {
  const rows = await db.$queryRaw<
    {
      byId: string;
      state: unknown;
      rowsRead: number;
      rowsMade: number;
      rowsDone: number;
      withdrawn: number;
    }[]
  >`
    SELECT "byId", "report"->>'state' AS "state", "rowsRead", "rowsMade",
      ${countIn('rowsDone')} AS "rowsDone", ${countIn('withdrawn')} AS "withdrawn"
    FROM "ImportBatch" WHERE "id" = ${id}::uuid`;
  const [row] = rows;
  return row && { ...row, state: readImportState(row.state) };
}

/** A count out of a report; 0 where there is none, or something else than a whole number. */
function countIn(key: 'rowsDone' | 'withdrawn'): Prisma.Sql {
  return Prisma.sql`CASE WHEN "report"->>${key}::text ~ '^[0-9]{1,9}$' THEN ("report"->>${key}::text)::int ELSE 0 END`;
}

/** Replaces the report while the import is in the state that the writer saw; false when it has moved on. */
export async function updateImport(
  db: Queryable,
  id: string,
  seenState: string,
  data: {
    report: object;
    mode?: string;
    rowsRead?: number;
    rowsMade?: number;
    rowsRefused?: number;
    undoneAt?: Date | null;
  },
): Promise<boolean> {
  const { count } = await db.importBatch.updateMany({
    where: { id, report: { path: ['state'], equals: seenState } },
    data: { ...data, report: asJson(data.report) },
  });
  return count === 1;
}

export async function setRowsMade(db: Queryable, id: string, rowsMade: number): Promise<void> {
  await db.importBatch.update({ where: { id }, data: { rowsMade }, select: { id: true } });
}

/** Whose runs have these keys, with what became of them. */
export function runsByCreationKeys(db: Queryable, testerId: string, creationKeys: string[]) {
  return db.run.findMany({
    where: { testerId, creationKey: { in: creationKeys } },
    select: { number: true, creationKey: true, status: true, importBatchId: true },
  });
}

/** Runs with these contents that were sent: drafts and rejected runs do not count, as at submission. */
export async function runsWithContents(db: Queryable, contentHashes: string[]): Promise<Map<string, number>> {
  const found = await db.runRevision.findMany({
    where: { contentHash: { in: contentHashes }, run: { status: { notIn: ['draft', 'rejected'] } } },
    orderBy: { submittedAt: 'desc' },
    select: { contentHash: true, run: { select: { number: true } } },
  });
  // The oldest is written last and stays.
  return new Map(found.map((revision) => [revision.contentHash, revision.run.number]));
}

export async function markImported(db: Queryable, runId: string, importBatchId: string): Promise<void> {
  await db.run.update({ where: { id: runId }, data: { importBatchId }, select: { id: true } });
}

/** The runs that an import made and that were sent. */
export function sentRunsOfImport(db: Queryable, importBatchId: string) {
  return db.run.findMany({
    where: { importBatchId, status: { not: 'draft' } },
    orderBy: { number: 'asc' },
    select: { id: true, number: true, status: true },
  });
}

export function countSentOfImport(db: Queryable, importBatchId: string): Promise<number> {
  return db.run.count({ where: { importBatchId, status: { not: 'draft' } } });
}

/** What the names in a sheet can mean for one tester. */
/** A tester's cars as a sheet names them, with the setups of each. */
export function carsForImport(db: Queryable, testerId: string) {
  return db.car.findMany({
    where: { ownerId: testerId, ...IN_USE },
    orderBy: { name: 'asc' },
    select: {
      id: true,
      name: true,
      model: {
        select: {
          setups: { where: UNMERGED, orderBy: { title: 'asc' }, select: { id: true, title: true } },
        },
      },
    },
  });
}

/** The first loops by name. */
export function loopsForImport(db: Queryable, take: number) {
  return db.loop.findMany({
    where: LISTED,
    orderBy: { name: 'asc' },
    take,
    select: { id: true, name: true, postedLimitMps: true },
  });
}

/**
 * Loops of these names, capitals and spaces aside as `plainName` says it. PostgreSQL lowers a few letters otherwise
 * (ΟΔΟΣ, İ); such a name is found as it is written.
 */
export function loopsNamed(
  db: Queryable,
  { names, plainNames }: { names: readonly string[]; plainNames: readonly string[] },
): Promise<ImportLoop[]> {
  return db.$queryRaw<ImportLoop[]>`
    SELECT "id", "name", "postedLimitMps" FROM "Loop"
    WHERE "hiddenAt" IS NULL AND "mergedIntoId" IS NULL AND ("name" = ANY(${[...names]}::text[])
      OR regexp_replace(lower(normalize("name", NFKC)), '\\s+', '', 'g') = ANY(${[...plainNames]}::text[]))
    ORDER BY "name", "id"
    LIMIT ${MOST_NAMED}`;
}

/** More than the rows of any sheet. */
const MOST_NAMED = 20_000;

export async function rememberedMapping(db: Queryable, accountId: string, kind: string, headerKey: string) {
  const found = await db.columnMapping.findUnique({
    where: { accountId_kind_headerKey: { accountId, kind, headerKey } },
    select: { mapping: true },
  });
  return found === null ? undefined : readSheetReading(found.mapping);
}

export async function rememberMapping(
  db: Queryable,
  key: { accountId: string; kind: string; headerKey: string },
  mapping: object,
  usedAt: Date,
): Promise<void> {
  await db.columnMapping.upsert({
    where: { accountId_kind_headerKey: key },
    create: { ...key, mapping: asJson(mapping), usedAt },
    update: { mapping: asJson(mapping), usedAt },
    select: { kind: true },
  });
}

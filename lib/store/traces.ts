import { readPublicTrack, readTrace, readTraceColumns } from '@/lib/capture/stored';
import type { PublicTrack } from '@/lib/capture/trace/publicTrack';
import type { StoredTrace } from '@/lib/capture/trace/storedTrace';
import { readReduction } from '@/lib/reduction/stored';
import type { RunStatus } from '@/lib/run/runStatus';
import type { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import type { Queryable } from './database';

const TRACE = {
  id: true,
  runId: true,
  uploadedById: true,
  fileName: true,
  format: true,
  sha256: true,
  pointsRead: true,
  pointsUsed: true,
  reduction: true,
  publicTrack: true,
  uploadedAt: true,
} as const;

interface StoredRow {
  reduction: unknown;
  publicTrack: unknown;
}

/** What was made of the file, in the place of the JSON; null where either part cannot be read. */
function withContents<Row extends StoredRow>({ reduction, publicTrack, ...row }: Row) {
  const [stored, track] = [readTrace(reduction), readPublicTrack(publicTrack)];
  return { ...row, contents: stored === undefined || track === undefined ? null : { stored, track } };
}

/** The trace that a draft has now. */
export async function traceOfDraft(db: Queryable, runId: string) {
  const row = await db.trace.findFirst({
    where: { runId, removedAt: null },
    orderBy: { uploadedAt: 'desc' },
    select: TRACE,
  });
  return row && withContents(row);
}

export type TraceRow = NonNullable<Awaited<ReturnType<typeof traceOfDraft>>>;

/** The trace of a draft, else the one that the run was last submitted with. */
export function newestTrace(db: Queryable, runId: string, only: 'any' | 'submitted' = 'any') {
  const wasSubmitted = { revisions: { some: {} } };
  return db.trace.findFirst({
    where: { runId, ...(only === 'submitted' ? wasSubmitted : { OR: [{ removedAt: null }, wasSubmitted] }) },
    orderBy: { uploadedAt: 'desc' },
    select: { fileName: true, format: true, sha256: true },
  });
}

export interface NewTrace {
  uploadedById: string;
  /** Null for a recording that a loop is made from. */
  runId: string | null;
  fileName: string;
  format: string;
  sha256: string;
  pointsRead: number;
  pointsUsed: number;
  reduction: StoredTrace;
  publicTrack: PublicTrack;
  uploadedAt: Date;
}

export function insertTrace(db: Queryable, trace: NewTrace) {
  return db.trace.create({
    data: { ...trace, reduction: asJson(trace.reduction), publicTrack: asJson(trace.publicTrack) },
    select: { id: true },
  });
}

/** Holds the run's row until the end of the transaction; false when it is in none of these states any more. */
export async function lockRun(db: Queryable, runId: string, statuses: RunStatus[]): Promise<boolean> {
  const rows = await db.$queryRaw<{ status: RunStatus }[]>`
    SELECT "status"::text AS "status" FROM "Run" WHERE "id" = ${runId}::uuid FOR UPDATE`;
  const status = rows[0]?.status;
  return status !== undefined && statuses.includes(status);
}

/**
 * Takes the traces off a draft. One that a revision was submitted with stays with it; the rest are gone, with the
 * places in them. Returns the files that nothing refers to any more.
 */
export async function takeTracesOff(db: Queryable, runId: string, at: Date): Promise<string[]> {
  await db.trace.updateMany({
    where: { runId, removedAt: null, revisions: { some: {} } },
    data: { removedAt: at },
  });
  return dropTraces(db, { runId, removedAt: null, revisions: { none: {} } });
}

/** Drops the recordings that a tester sent for loops; returns the files that nothing refers to any more. */
export function dropLoopTraces(db: Queryable, accountId: string): Promise<string[]> {
  return dropTraces(db, { uploadedById: accountId, runId: null, revisions: { none: {} } });
}

/** The files that neither a recording nor an imported sheet refers to: the same bytes can have come both ways. */
export async function filesWithoutUse(db: Queryable, digests: readonly string[]): Promise<string[]> {
  const free: string[] = [];
  for (const sha256 of digests) {
    const traces = await db.trace.count({ where: { sha256 } });
    const sheets = await db.importBatch.count({ where: { report: { path: ['sha256'], equals: sha256 } } });
    if (traces + sheets === 0) free.push(sha256);
  }
  return free;
}

async function dropTraces(db: Queryable, where: Prisma.TraceWhereInput): Promise<string[]> {
  const loose = await db.trace.findMany({ where, select: { id: true, sha256: true } });
  await db.trace.deleteMany({ where: { id: { in: loose.map(({ id }) => id) } } });
  const digests = [...new Set(loose.map(({ sha256 }) => sha256))];
  const kept = await db.trace.findMany({ where: { sha256: { in: digests } }, select: { sha256: true } });
  const inUse = new Set(kept.map(({ sha256 }) => sha256));
  return digests.filter((sha256) => !inUse.has(sha256));
}

/** A recording that this tester sent, for a loop or a run. */
export async function ownTrace(db: Queryable, id: string, accountId: string) {
  const found = await db.trace.findFirst({ where: { id, uploadedById: accountId }, select: TRACE });
  return found && withContents(found);
}

/** Recordings of approved runs on a loop, newest first: what is known of where it lies and how long it is. */
export async function tracesOnLoop(db: Queryable, loopId: string, most: number) {
  const found = await db.runRevision.findMany({
    where: { traceId: { not: null }, run: { loopId, countedRuns: { some: {} } } },
    orderBy: { submittedAt: 'desc' },
    take: most,
    select: {
      number: true,
      run: { select: { id: true, number: true, approvedRevision: true, carId: true, testerId: true } },
      trace: { select: { reduction: true } },
    },
  });
  return found.map(({ trace, ...revision }) => ({
    ...revision,
    trace: trace && (readTrace(trace.reduction) ?? null),
  }));
}

/** The newest recording that this tester submitted on a loop. Others' places are not to be told apart by it. */
export async function ownTraceOnLoop(
  db: Queryable,
  own: { loopId: string; testerId: string; exceptRunId: string },
) {
  const found = await db.runRevision.findFirst({
    where: {
      traceId: { not: null },
      run: {
        loopId: own.loopId,
        testerId: own.testerId,
        id: { not: own.exceptRunId },
        status: { not: 'rejected' },
      },
    },
    orderBy: { submittedAt: 'desc' },
    select: { trace: { select: { reduction: true } } },
  });
  return found?.trace ? readTrace(found.trace.reduction) : undefined;
}

/** The newest recording that this tester submitted on each loop, the loop driven last first. */
export async function ownLoopTraces(db: Queryable, testerId: string, most: number) {
  const rows = await db.$queryRaw<{ loopId: string; name: string; reduction: unknown }[]>`
    SELECT loop."id" AS "loopId", loop."name", trace."reduction"
    FROM (
      SELECT DISTINCT ON (run."loopId") run."loopId", revision."traceId", revision."submittedAt"
      FROM "Run" run JOIN "RunRevision" revision ON revision."runId" = run."id"
      WHERE run."testerId" = ${testerId}::uuid AND run."status" <> 'rejected' AND revision."traceId" IS NOT NULL
      ORDER BY run."loopId", revision."submittedAt" DESC
    ) latest
    JOIN "Loop" loop ON loop."id" = latest."loopId"
    JOIN "Trace" trace ON trace."id" = latest."traceId"
    ORDER BY latest."submittedAt" DESC LIMIT ${most}`;
  return rows.map(({ reduction, ...row }) => ({ ...row, trace: readTrace(reduction) }));
}

/** The trace that a revision was submitted with, and what was made of it. */
export async function traceOfRevision(db: Queryable, runId: string, revisionNumber: number) {
  const found = await db.runRevision.findUnique({
    where: { runId_number: { runId, number: revisionNumber } },
    select: {
      number: true,
      run: {
        select: {
          status: true,
          testerId: true,
          world: true,
          approvedRevision: true,
          cruiseClass: { select: { label: true, speedMps: true } },
        },
      },
      trace: { select: TRACE },
      normalisations: { orderBy: { computedAt: 'desc' }, take: 1, select: { result: true } },
    },
  });
  if (found === null) return null;
  const { trace, normalisations, ...revision } = found;
  const result = normalisations[0] && readReduction(normalisations[0].result);
  return { ...revision, trace: trace && withContents(trace), use: result?.trace ?? null };
}

export async function rememberedColumns(db: Queryable, accountId: string, headerKey: string) {
  const found = await db.columnMapping.findUnique({
    where: { accountId_kind_headerKey: { accountId, kind: 'trace', headerKey } },
    select: { mapping: true },
  });
  return found === null ? undefined : readTraceColumns(found.mapping);
}

export async function rememberColumns(
  db: Queryable,
  entry: { accountId: string; headerKey: string; mapping: object; usedAt: Date },
): Promise<void> {
  const { accountId, headerKey, usedAt } = entry;
  const mapping = asJson(entry.mapping);
  await db.columnMapping.upsert({
    where: { accountId_kind_headerKey: { accountId, kind: 'trace', headerKey } },
    create: { accountId, kind: 'trace', headerKey, mapping, usedAt },
    update: { mapping, usedAt },
  });
}

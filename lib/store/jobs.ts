import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

/** One attempt at one job: what the worker that holds it writes under. */
export interface Lease {
  jobId: string;
  attempt: number;
}

export interface ClaimedJob extends Lease {
  kind: string;
  key: string;
}

/** Asks for work once: while an equal job waits, asking again changes nothing and gives false. */
export async function enqueueJob(db: Queryable, kind: string, key: string, at: Date): Promise<boolean> {
  const inserted = await db.$executeRaw`
    INSERT INTO "Job" ("id", "kind", "key", "runAfter", "queuedAt")
    VALUES (gen_random_uuid(), ${kind}, ${key}, ${at}, ${at})
    ON CONFLICT ON CONSTRAINT "Job_one_queued" DO NOTHING`;
  return inserted > 0;
}

/**
 * Takes the oldest waiting job and holds it for a while. `SKIP LOCKED` lets several workers take different ones, and a
 * job of a kind and key that is running already waits for it, so that two fits of one group never race.
 */
export async function claimNextJob(
  db: Queryable,
  by: { workerId: string; now: Date; leaseUntil: Date },
): Promise<ClaimedJob | undefined> {
  const jobs = await db.$queryRaw<ClaimedJob[]>`
    UPDATE "Job" SET "state" = 'running', "startedAt" = ${by.now}, "attempts" = "attempts" + 1,
      "workerId" = ${by.workerId}, "leaseUntil" = ${by.leaseUntil}
    WHERE "id" = (
      SELECT waiting."id" FROM "Job" waiting
      WHERE waiting."state" = 'queued' AND waiting."runAfter" <= ${by.now}
        AND NOT EXISTS (
          SELECT 1 FROM "Job" busy
          WHERE busy."state" = 'running' AND busy."kind" = waiting."kind" AND busy."key" = waiting."key")
      ORDER BY waiting."runAfter", waiting."queuedAt"
      LIMIT 1 FOR UPDATE SKIP LOCKED)
    RETURNING "id"::text AS "jobId", "attempts" AS "attempt", "kind", "key"`;
  return jobs[0];
}

/** How far a job is, where its work has such a number. */
export interface JobProgress {
  done: number;
  of: number | null;
}

/** The heartbeat: false when the job is no longer this attempt's. */
export async function renewLease(
  db: Queryable,
  { jobId, attempt }: Lease,
  leaseUntil: Date,
  progress: JobProgress | undefined,
): Promise<boolean> {
  const { count } = await db.job.updateMany({
    where: { id: jobId, attempts: attempt, state: 'running' },
    data: { leaseUntil, ...(progress ? { progress: { ...progress } satisfies Prisma.InputJsonObject } : {}) },
  });
  return count === 1;
}

/** Whether the job is still this attempt's; if so, nobody takes it before the transaction ends. */
export async function holdsLease(tx: Queryable, { jobId, attempt }: Lease): Promise<boolean> {
  const rows = await tx.$queryRaw<unknown[]>`
    SELECT 1 FROM "Job"
    WHERE "id" = ${jobId}::uuid AND "attempts" = ${attempt} AND "state" = 'running' FOR UPDATE`;
  return rows.length === 1;
}

export async function finishJob(
  db: Queryable,
  { jobId, attempt }: Lease,
  finishedAt: Date,
): Promise<boolean> {
  const { count } = await db.job.updateMany({
    where: { id: jobId, attempts: attempt, state: 'running' },
    data: { state: 'done', finishedAt, error: null, leaseUntil: null },
  });
  return count === 1;
}

/** What is to follow a failed attempt: nothing, or another one that counts `attempts` behind it. */
export interface NextAttempt {
  at: Date;
  attempts: number;
}

/**
 * Closes an attempt and asks for the next one, in one statement: a fresh row carries the next try, so that the failed
 * one stays readable. Where the work was asked for anew meanwhile, that row carries it and says what became of this
 * try. False when the job was no longer this attempt's: then nothing is written.
 */
export async function failJob(
  db: Queryable,
  { jobId, attempt }: Lease,
  failure: { at: Date; error: string; next: NextAttempt | undefined },
): Promise<boolean> {
  const { at, error, next } = failure;
  const rows = await db.$queryRaw<{ failed: number }[]>`
    WITH failed AS (
      UPDATE "Job" SET "state" = 'failed', "finishedAt" = ${at}, "error" = ${error}, "leaseUntil" = NULL
      WHERE "id" = ${jobId}::uuid AND "attempts" = ${attempt} AND "state" = 'running'
      RETURNING "kind", "key"),
    waiting AS (
      UPDATE "Job" asked SET "attempts" = ${next?.attempts ?? 0}, "error" = ${error}
      FROM failed
      WHERE ${next !== undefined} AND asked."state" = 'queued'
        AND asked."kind" = failed."kind" AND asked."key" = failed."key"),
    retry AS (
      INSERT INTO "Job" ("id", "kind", "key", "attempts", "error", "runAfter", "queuedAt")
      SELECT gen_random_uuid(), "kind", "key", ${next?.attempts ?? 0}, ${error}, ${next?.at ?? at}, ${at}
      FROM failed WHERE ${next !== undefined}
      ON CONFLICT ON CONSTRAINT "Job_one_queued" DO NOTHING)
    SELECT count(*)::int AS "failed" FROM failed`;
  return rows[0]?.failed === 1;
}

/**
 * Asks again for every job whose worker no longer holds it, up to a number of attempts; returns how many were found.
 * Called at every poll by every worker. One statement, so that nothing is lost where it is broken off.
 */
export async function recoverLostJobs(db: Queryable, now: Date, mostAttempts: number): Promise<number> {
  const rows = await db.$queryRaw<{ lost: number }[]>`
    WITH lost AS (
      UPDATE "Job" SET "state" = 'failed', "finishedAt" = ${now}, "leaseUntil" = NULL,
        "error" = 'the worker ended, or lost the database, before the job was done'
      WHERE "id" IN (
        SELECT "id" FROM "Job"
        WHERE "state" = 'running' AND ("leaseUntil" IS NULL OR "leaseUntil" <= ${now})
        FOR UPDATE SKIP LOCKED)
      RETURNING "kind", "key", "attempts", "error"),
    retry AS (
      INSERT INTO "Job" ("id", "kind", "key", "attempts", "error", "runAfter", "queuedAt")
      SELECT gen_random_uuid(), "kind", "key", "attempts", "error", ${now}, ${now}
      FROM lost WHERE "attempts" < ${mostAttempts}
      ON CONFLICT ON CONSTRAINT "Job_one_queued" DO NOTHING)
    SELECT count(*)::int AS "lost" FROM lost`;
  return rows[0]?.lost ?? 0;
}

/** Since when the longest waiting job could have been begun. */
export async function oldestDueJob(db: Queryable, now: Date): Promise<Date | undefined> {
  const found = await db.job.findFirst({
    where: { state: 'queued', runAfter: { lte: now } },
    orderBy: { runAfter: 'asc' },
    select: { runAfter: true },
  });
  return found?.runAfter;
}

/** Asked for again in the same moment, the one that waits or runs is the newer. */
const NEWEST_JOB: Prisma.JobOrderByWithRelationInput[] = [
  { queuedAt: 'desc' },
  { finishedAt: { sort: 'desc', nulls: 'first' } },
];

/** The newest job about one thing, for "being recomputed" on pages. */
export function latestJob(db: Queryable, kind: string, key: string) {
  return db.job.findFirst({
    where: { kind, key },
    orderBy: NEWEST_JOB,
    select: {
      state: true,
      queuedAt: true,
      startedAt: true,
      finishedAt: true,
      runAfter: true,
      attempts: true,
      error: true,
    },
  });
}

/** Of the same, how far it is; also of one that is over. */
export function latestProgress(db: Queryable, kind: string, key: string) {
  return db.job.findFirst({
    where: { kind, key },
    orderBy: NEWEST_JOB,
    select: { state: true, progress: true, error: true },
  });
}

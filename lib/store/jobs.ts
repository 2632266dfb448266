import type { Queryable } from './database';

export interface ClaimedJob {
  id: string;
  kind: string;
  key: string;
  attempts: number;
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
 * Takes the oldest waiting job. `SKIP LOCKED` lets several workers take different ones, and a job of a kind and key
 * that is running already waits for it, so that two fits of one group never race.
 */
export async function claimNextJob(db: Queryable, now: Date): Promise<ClaimedJob | undefined> {
  const jobs = await db.$queryRaw<ClaimedJob[]>`
    UPDATE "Job" SET "state" = 'running', "startedAt" = ${now}, "attempts" = "attempts" + 1
    WHERE "id" = (
      SELECT waiting."id" FROM "Job" waiting
      WHERE waiting."state" = 'queued' AND waiting."runAfter" <= ${now}
        AND NOT EXISTS (
          SELECT 1 FROM "Job" busy
          WHERE busy."state" = 'running' AND busy."kind" = waiting."kind" AND busy."key" = waiting."key")
      ORDER BY waiting."runAfter", waiting."queuedAt"
      LIMIT 1 FOR UPDATE SKIP LOCKED)
    RETURNING "id", "kind", "key", "attempts"`;
  return jobs[0];
}

export async function finishJob(db: Queryable, id: string, finishedAt: Date): Promise<void> {
  await db.job.update({
    where: { id },
    data: { state: 'done', finishedAt, error: null },
    select: { id: true },
  });
}

export async function failJob(db: Queryable, id: string, finishedAt: Date, error: string): Promise<void> {
  await db.job.update({ where: { id }, data: { state: 'failed', finishedAt, error }, select: { id: true } });
}

/** Jobs left running by a process that died are waiting again; called when a worker starts. */
export async function requeueAbandonedJobs(db: Queryable, startedBefore: Date): Promise<number> {
  return db.$executeRaw`
    UPDATE "Job" abandoned SET "state" = 'failed', "error" = 'the process ended before the job did'
    WHERE "state" = 'running' AND "startedAt" < ${startedBefore}`;
}

export async function abandonedJobs(
  db: Queryable,
  startedBefore: Date,
): Promise<{ kind: string; key: string }[]> {
  return db.job.findMany({
    where: { state: 'running', startedAt: { lt: startedBefore } },
    select: { kind: true, key: true },
  });
}

/** The newest job about one thing, for "being recomputed" on pages. */
export function latestJob(db: Queryable, kind: string, key: string) {
  return db.job.findFirst({
    where: { kind, key },
    orderBy: { queuedAt: 'desc' },
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

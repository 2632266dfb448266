import type { Queryable } from './database';

/** A sign of life. The rows of workers that have been silent for a day go with it. */
export async function signOfLife(
  db: Queryable,
  worker: { id: string; startedAt: Date },
  at: Date,
): Promise<void> {
  const { id, startedAt } = worker;
  await db.worker.upsert({
    where: { id },
    create: { id, startedAt, lastSeenAt: at },
    update: { lastSeenAt: at },
    select: { id: true },
  });
  await db.worker.deleteMany({ where: { lastSeenAt: { lt: new Date(at.getTime() - 24 * 60 * 60 * 1000) } } });
}

/** When any worker was last heard of. */
export async function lastSeenWorker(db: Queryable): Promise<Date | undefined> {
  const found = await db.worker.findFirst({ orderBy: { lastSeenAt: 'desc' }, select: { lastSeenAt: true } });
  return found?.lastSeenAt;
}

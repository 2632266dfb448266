import { resolve } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { inAThread } from '@/lib/jobs/inAThread';
import type { JobRunner } from '@/lib/jobs/jobRunner';
import { pollJobs } from '@/lib/jobs/pollJobs';
import { runPendingJobs } from '@/lib/jobs/runPendingJobs';
import { enqueueJob, recoverLostJobs } from '@/lib/store/jobs';
import { freshDatabase } from '@/test/helpers/database';

const { prisma: db } = await freshDatabase();
const place = inAThread(pathToFileURL(resolve(import.meta.dirname, '../../helpers/busyThread.ts')));
afterAll(() => place.close());
const runner: JobRunner = {
  db,
  place,
  now: () => new Date(),
  workerId: 'this test',
  leaseMs: 2_000,
  heartbeatMs: 50,
};
const jobOf = (kind: string) =>
  db.job.findFirstOrThrow({
    where: { kind },
    orderBy: [{ queuedAt: 'desc' }, { finishedAt: { sort: 'desc', nulls: 'first' } }],
  });

describe('a job in a thread of its own', () => {
  it('computes for several leases on end without losing its own, and says how far it is', async () => {
    await enqueueJob(db, 'compute', '5000', new Date());
    const done = runPendingJobs(runner);
    let lost = 0;
    for (let i = 0; i < 40; i += 1) {
      await delay(100);
      lost += await recoverLostJobs(db, new Date(), 8);
    }
    expect(await done).toBe(1);
    expect(lost).toBe(0);
    expect(await jobOf('compute')).toMatchObject({ state: 'done', progress: { done: 1, of: 2 } });
  });

  it('that throws fails with the reason, and the thread goes on with the next', async () => {
    await enqueueJob(db, 'throw', 'the matrix is singular', new Date());
    await enqueueJob(db, 'compute', '1', new Date());
    expect(await runPendingJobs(runner)).toBe(2);
    expect(await jobOf('throw')).toMatchObject({ state: 'queued', error: 'the matrix is singular' });
    expect(await jobOf('compute')).toMatchObject({ state: 'done' });
  });

  it('that ends its thread fails alone', async () => {
    await enqueueJob(db, 'exit', 'x', new Date());
    await enqueueJob(db, 'compute', '1', new Date(Date.now() + 1));
    await delay(5);
    expect(await runPendingJobs(runner)).toBe(2);
    expect(await jobOf('exit')).toMatchObject({ state: 'queued', error: 'the thread of the job ended' });
    expect(await jobOf('compute')).toMatchObject({ state: 'done' });
  });

  it('is given back, uncounted, when the worker stops and cannot wait', async () => {
    await db.job.deleteMany({});
    await enqueueJob(db, 'compute', '60000', new Date());
    const poll = pollJobs(
      runner,
      10,
      (error) => {
        throw error;
      },
      100,
    );
    await expect.poll(async () => (await jobOf('compute')).state, { timeout: 5_000 }).toBe('running');
    const started = performance.now();
    await poll.stop();
    expect(performance.now() - started).toBeLessThan(5_000);
    expect(await jobOf('compute')).toMatchObject({ state: 'queued', attempts: 0 });
  });
});

import { describe, expect, it } from 'vitest';
import { pollJobs } from '@/lib/jobs/pollJobs';
import { recoverAbandonedJobs, runPendingJobs } from '@/lib/jobs/runPendingJobs';
import { claimNextJob, enqueueJob } from '@/lib/store/jobs';
import { freshDatabase } from '@/test/helpers/database';

const { prisma: db } = await freshDatabase();
const at = new Date('2026-11-01T12:00:00Z');
const later = (ms: number) => new Date(at.getTime() + ms);

describe('background work', () => {
  it('waits once however often it is asked for, and runs once', async () => {
    for (let i = 0; i < 3; i += 1) await enqueueJob(db, 'count', 'a', at);
    let runs = 0;
    const runner = {
      db,
      now: () => at,
      handlers: {
        count: async () => {
          runs += 1;
        },
      },
    };
    expect(await runPendingJobs(runner)).toBe(1);
    expect(runs).toBe(1);
    await enqueueJob(db, 'count', 'a', at);
    expect(await runPendingJobs(runner)).toBe(1);
  });

  it('is not taken twice, and not beside a running job of the same thing', async () => {
    await enqueueJob(db, 'slow', 'b', at);
    const claims = await Promise.all([claimNextJob(db, at), claimNextJob(db, at)]);
    expect(claims.filter((claim) => claim !== undefined)).toHaveLength(1);
    await enqueueJob(db, 'slow', 'b', at);
    expect(await claimNextJob(db, at)).toBeUndefined();
    await enqueueJob(db, 'slow', 'c', at);
    expect(await claimNextJob(db, at)).toMatchObject({ key: 'c' });
    await db.job.deleteMany({ where: { kind: 'slow' } });
  });

  it('that fails keeps its error and is tried again later, three times in all', async () => {
    await enqueueJob(db, 'fail', 'd', at);
    let tries = 0;
    let now = at;
    const runner = {
      db,
      now: () => now,
      handlers: {
        fail: async () => {
          tries += 1;
          throw new Error('the matrix is singular');
        },
      },
    };
    for (let hours = 0; hours < 5; hours += 1) {
      now = later(hours * 3_600_000);
      await runPendingJobs(runner);
    }
    expect(tries).toBe(3);
    const failed = await db.job.findMany({ where: { kind: 'fail' } });
    expect(failed.map((job) => [job.state, job.error])).toEqual(
      Array.from({ length: 3 }, () => ['failed', 'the matrix is singular']),
    );
  });

  it('of a process that died is asked for again', async () => {
    await enqueueJob(db, 'orphan', 'e', at);
    await claimNextJob(db, at);
    let runs = 0;
    const runner = {
      db,
      now: () => later(3_600_000),
      handlers: {
        orphan: async () => {
          runs += 1;
        },
      },
    };
    expect(await runPendingJobs(runner)).toBe(0);
    await recoverAbandonedJobs(runner);
    expect(await runPendingJobs(runner)).toBe(1);
    expect(runs).toBe(1);
  });

  it('is done as it comes, and stopping waits for the job at hand', async () => {
    let finished = false;
    const runner = {
      db,
      now: () => later(7_200_000),
      handlers: {
        brief: async () => {
          await new Promise((resolve) => setTimeout(resolve, 50));
          finished = true;
        },
      },
    };
    await enqueueJob(db, 'brief', 'f', at);
    const poll = pollJobs(runner, 10, (error) => {
      throw error;
    });
    await new Promise((resolve) => setTimeout(resolve, 20));
    await poll.stop();
    expect(finished).toBe(true);
  });
});

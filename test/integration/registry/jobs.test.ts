import { setTimeout as delay } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { inThisThread, type JobHandler } from '@/lib/jobs/jobPlace';
import type { JobRunner } from '@/lib/jobs/jobRunner';
import { LEASE_MS, LeaseLost, underLease } from '@/lib/jobs/lease';
import { pollJobs } from '@/lib/jobs/pollJobs';
import { runPendingJobs } from '@/lib/jobs/runPendingJobs';
import type { Database } from '@/lib/store/database';
import { claimNextJob, enqueueJob, type Lease, recoverLostJobs } from '@/lib/store/jobs';
import { freshDatabase } from '@/test/helpers/database';

const { prisma: db } = await freshDatabase();
const at = new Date('2026-11-01T12:00:00Z');
const later = (ms: number) => new Date(at.getTime() + ms);

const runnerOf = (handlers: Record<string, JobHandler>, now: () => Date = () => at): JobRunner => ({
  db,
  place: inThisThread(() => new Map(Object.entries(handlers))),
  now,
  workerId: 'this test',
});
const claim = (now = at) =>
  claimNextJob(db, { workerId: 'another', now, leaseUntil: new Date(now.getTime() + LEASE_MS) });
const jobsOf = (kind: string) =>
  db.job.findMany({
    where: { kind },
    orderBy: [{ queuedAt: 'asc' }, { finishedAt: { sort: 'asc', nulls: 'last' } }],
  });

async function claimed(now = at): Promise<Lease> {
  const job = await claim(now);
  if (job === undefined) throw new Error('nothing to claim');
  return job;
}

describe('background work', () => {
  it('waits once however often it is asked for, and runs once', async () => {
    for (let i = 0; i < 3; i += 1) await enqueueJob(db, 'count', 'a', at);
    let runs = 0;
    const runner = runnerOf({
      count: async () => {
        runs += 1;
      },
    });
    expect(await runPendingJobs(runner)).toBe(1);
    expect(runs).toBe(1);
    await enqueueJob(db, 'count', 'a', at);
    expect(await runPendingJobs(runner)).toBe(1);
  });

  it('is not taken twice, and not beside a running job of the same thing', async () => {
    await enqueueJob(db, 'slow', 'b', at);
    const claims = await Promise.all([claim(), claim()]);
    expect(claims.filter((one) => one !== undefined)).toHaveLength(1);
    await enqueueJob(db, 'slow', 'b', at);
    expect(await claim()).toBeUndefined();
    await enqueueJob(db, 'slow', 'c', at);
    expect(await claim()).toMatchObject({ key: 'c' });
    await db.job.deleteMany({ where: { kind: 'slow' } });
  });

  it('that fails keeps its error and is tried again later, three times in all', async () => {
    await enqueueJob(db, 'fail', 'd', at);
    let tries = 0;
    let now = at;
    const runner = runnerOf(
      {
        fail: async () => {
          tries += 1;
          throw new Error('the matrix is singular');
        },
      },
      () => now,
    );
    for (let hours = 0; hours < 5; hours += 1) {
      now = later(hours * 3_600_000);
      await runPendingJobs(runner);
    }
    expect(tries).toBe(3);
    expect((await jobsOf('fail')).map((job) => [job.state, job.error])).toEqual(
      Array.from({ length: 3 }, () => ['failed', 'the matrix is singular']),
    );
  });

  it('that fails and was asked for anew meanwhile says so where it waits, and waits once', async () => {
    await enqueueJob(db, 'again', 'd', at);
    await runPendingJobs(
      runnerOf({
        again: async () => {
          await enqueueJob(db, 'again', 'd', later(60_000));
          throw new Error('the matrix is singular');
        },
      }),
    );
    expect((await jobsOf('again')).map(({ state, attempts, error }) => [state, attempts, error])).toEqual([
      ['failed', 1, 'the matrix is singular'],
      ['queued', 1, 'the matrix is singular'],
    ]);
    await db.job.deleteMany({ where: { kind: 'again' } });
  });

  it('of a kind that nobody does fails at once and for good', async () => {
    await enqueueJob(db, 'unknown', 'd', at);
    expect(await runPendingJobs(runnerOf({}))).toBe(1);
    expect(await jobsOf('unknown')).toMatchObject([
      { state: 'failed', error: 'no handler for jobs of kind unknown' },
    ]);
  });

  it('fails and is asked for again together or not at all', async () => {
    await enqueueJob(db, 'halfway', 'd', at);
    const failing = runnerOf({
      halfway: async () => {
        throw new Error('the matrix is singular');
      },
    });
    await db.$executeRaw`
      CREATE FUNCTION refuse_retry() RETURNS trigger LANGUAGE plpgsql AS
        $$ BEGIN RAISE EXCEPTION 'no room on the disk'; END $$`;
    await db.$executeRaw`
      CREATE TRIGGER refuse_retry BEFORE INSERT ON "Job" FOR EACH ROW EXECUTE FUNCTION refuse_retry()`;
    await expect(runPendingJobs(failing)).rejects.toThrow('no room on the disk');
    expect(await jobsOf('halfway')).toMatchObject([{ state: 'running' }]);
    await db.$executeRaw`DROP TRIGGER refuse_retry ON "Job"`;
    expect(await recoverLostJobs(db, later(LEASE_MS), 8)).toBe(1);
    expect((await jobsOf('halfway')).map(({ state }) => state)).toEqual(['failed', 'queued']);
    await db.job.deleteMany({ where: { kind: 'halfway' } });
  });

  it('is done as it comes, and stopping waits for the job at hand', async () => {
    let begun = false;
    let finished = false;
    const runner = runnerOf(
      {
        brief: async () => {
          begun = true;
          await delay(50);
          finished = true;
        },
      },
      () => later(7_200_000),
    );
    await enqueueJob(db, 'brief', 'f', at);
    const poll = pollJobs(runner, 10, (error) => {
      throw error;
    });
    await expect.poll(() => begun, { timeout: 20_000, interval: 2 }).toBe(true);
    await poll.stop();
    expect(finished).toBe(true);
  });
});

describe('a job whose worker is gone', () => {
  it('is taken up at the next poll of any worker once its lease is over, and not before', async () => {
    await enqueueJob(db, 'orphan', 'e', at);
    await claim();
    let runs = 0;
    let now = later(LEASE_MS - 1);
    const runner = runnerOf(
      {
        orphan: async () => {
          runs += 1;
        },
      },
      () => now,
    );
    const poll = pollJobs(runner, 5, (error) => {
      throw error;
    });
    await delay(60);
    expect(runs).toBe(0);
    now = later(LEASE_MS);
    await expect.poll(() => runs, { timeout: 20_000 }).toBe(1);
    await poll.stop();
    expect((await jobsOf('orphan')).map(({ state, attempts }) => [state, attempts])).toEqual([
      ['failed', 1],
      ['done', 2],
    ]);
  });

  it('is asked for once where it was asked for anew meanwhile', async () => {
    await enqueueJob(db, 'twice', 'e', at);
    await claim();
    await enqueueJob(db, 'twice', 'e', at);
    expect(await recoverLostJobs(db, later(LEASE_MS), 8)).toBe(1);
    expect((await jobsOf('twice')).map(({ state }) => state).sort()).toEqual(['failed', 'queued']);
    await db.job.deleteMany({ where: { kind: 'twice' } });
  });

  it('is left alone after a number of attempts: it may be what kills them', async () => {
    await enqueueJob(db, 'deadly', 'e', at);
    for (let attempt = 1; attempt <= 3; attempt += 1) {
      const now = later(attempt * 60_000);
      expect(await claim(now)).toMatchObject({ kind: 'deadly', attempt });
      expect(await recoverLostJobs(db, new Date(now.getTime() + LEASE_MS), 3)).toBe(1);
    }
    expect(await claim(later(3_600_000))).toBeUndefined();
  });

  it('of an older version, which held none, is taken up as well', async () => {
    await db.job.create({ data: { kind: 'old', key: 'e', state: 'running', attempts: 1, startedAt: at } });
    expect(await recoverLostJobs(db, at, 8)).toBe(1);
    await db.job.deleteMany({ where: { kind: 'old' } });
  });
});

describe('a lease', () => {
  it('is renewed while the work goes on, however long', async () => {
    await enqueueJob(db, 'long', 'g', at);
    const started = Date.now();
    const now = () => later(Date.now() - started);
    let recovered = 0;
    const runner = {
      ...runnerOf(
        {
          long: async () => {
            for (let i = 0; i < 30; i += 1) {
              await delay(100);
              recovered += await recoverLostJobs(db, now(), 8);
            }
          },
        },
        now,
      ),
      leaseMs: 1_500,
      heartbeatMs: 50,
    };
    expect(await runPendingJobs(runner)).toBe(1);
    expect(recovered).toBe(0);
    expect(await jobsOf('long')).toMatchObject([{ state: 'done', attempts: 1, leaseUntil: null }]);
  });

  it('that is lost lets nothing be written, neither by the work nor about the job', async () => {
    await enqueueJob(db, 'sleeper', 'h', at);
    const lost = await claimed();
    const asleep = underLease(db, lost);
    const write = (on: Database, key: string) => on.$transaction((tx) => enqueueJob(tx, 'written', key, at));
    await write(asleep, 'while it is held');
    await recoverLostJobs(db, later(LEASE_MS), 8);
    await expect(write(asleep, 'when it is waiting again')).rejects.toThrow(LeaseLost);
    const found = await claimed(later(LEASE_MS));
    await expect(write(asleep, 'when another has it')).rejects.toThrow(LeaseLost);
    await write(underLease(db, found), 'by the other');
    expect((await jobsOf('written')).map(({ key }) => key)).toEqual(['while it is held', 'by the other']);
    await db.job.deleteMany({ where: { kind: { in: ['written', 'sleeper'] } } });
  });

  it('cannot be taken over between a writing transaction’s question and its end', async () => {
    await enqueueJob(db, 'writing', 'i', at);
    const lease = await claimed();
    await underLease(db, lease).$transaction(async (tx) => {
      expect(await recoverLostJobs(db, later(LEASE_MS), 8)).toBe(0);
      await enqueueJob(tx, 'result', 'i', at);
    });
    expect(await jobsOf('result')).toHaveLength(1);
    await db.job.deleteMany({ where: { kind: { in: ['writing', 'result'] } } });
  });

  it('that is lost in mid-work ends the attempt without a word on the next one’s row', async () => {
    await enqueueJob(db, 'stolen', 'j', at);
    let signal: AbortSignal | undefined;
    const runner: JobRunner = {
      ...runnerOf({}),
      heartbeatMs: 10,
      place: {
        run: async (attempt) => {
          signal = attempt.signal;
          await recoverLostJobs(db, later(LEASE_MS), 8);
          await new Promise((_, reject) => {
            attempt.signal.addEventListener('abort', () => reject(attempt.signal.reason));
          });
        },
        close: async () => {},
      },
    };
    await db.job.updateMany({
      where: { state: 'queued', kind: { not: 'stolen' } },
      data: { runAfter: later(9e9) },
    });
    // The second look finds the job that was taken up and does it again: it is stolen once only.
    const first = runPendingJobs({ ...runner, isStopped: () => signal !== undefined });
    await first;
    expect(signal?.aborted).toBe(true);
    expect((await jobsOf('stolen')).map(({ state, attempts }) => [state, attempts])).toEqual([
      ['failed', 1],
      ['queued', 1],
    ]);
  });

  it('outlives a database that is away for a few heartbeats', async () => {
    await db.job.deleteMany({});
    await enqueueJob(db, 'patient', 'k', at);
    let beats = 0;
    const flaky = new Proxy(db, {
      get: (target, name) =>
        name === 'job'
          ? new Proxy(target.job, {
              get: (job, method) =>
                method === 'updateMany'
                  ? (...args: Parameters<typeof job.updateMany>) => {
                      beats += 1;
                      if (beats <= 3) throw new Error('the database is away');
                      return job.updateMany(...args);
                    }
                  : Reflect.get(job, method, job),
            })
          : Reflect.get(target, name, target),
    });
    const runner = { ...runnerOf({ patient: () => delay(150) }), db: flaky, heartbeatMs: 20 };
    expect(await runPendingJobs(runner)).toBe(1);
    expect(beats).toBeGreaterThan(3);
    expect(await jobsOf('patient')).toMatchObject([{ state: 'done' }]);
  });
});

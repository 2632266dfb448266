import { afterAll, describe, expect, it } from 'vitest';
import { readReadiness } from '@/lib/registry/home/readiness';
import { enqueueJob } from '@/lib/store/jobs';
import { signOfLife } from '@/lib/store/workers';
import { freshDatabase } from '@/test/helpers/database';
import { registryOn } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

/** A busy machine must not fail a test of what is found. */
const readiness = (freeMb = async () => 5_000) => readReadiness(registry, freeMb, 30_000);
const wait = (seconds: number) => {
  clock.now = new Date(clock.now.getTime() + seconds * 1000);
};

describe('readiness', () => {
  it('misses the worker until one gives a sign of life, and when it falls silent', async () => {
    expect(await readiness()).toEqual({
      status: 'degraded',
      checks: {
        page: { ok: true, found: 'read' },
        diskFreeMb: { ok: true, found: 5_000 },
        workerSilentSeconds: { ok: false, found: null },
        oldestJobSeconds: { ok: true, found: null },
      },
    });
    await signOfLife(prisma, { id: 'one', startedAt: clock.now }, clock.now);
    wait(30);
    expect((await readiness()).status).toBe('ready');
    wait(1);
    expect(await readiness()).toMatchObject({
      status: 'degraded',
      checks: { workerSilentSeconds: { ok: false, found: 31 } },
    });
    wait(2 * 24 * 3600);
    await signOfLife(prisma, { id: 'two', startedAt: clock.now }, clock.now);
    expect(await prisma.worker.findMany({ select: { id: true } })).toEqual([{ id: 'two' }]);
  });

  it('tells of a job that waits for long, not of one that is not due', async () => {
    await enqueueJob(prisma, 'refit', 'record/mph-70', clock.now);
    await enqueueJob(prisma, 'refit', 'record/mph-60', new Date(clock.now.getTime() + 9e9));
    wait(901);
    await signOfLife(prisma, { id: 'two', startedAt: clock.now }, clock.now);
    expect(await readiness()).toMatchObject({
      status: 'degraded',
      checks: { oldestJobSeconds: { ok: false, found: 901 } },
    });
    await prisma.job.deleteMany({});
  });

  it('is none without room on the disk, or where something does not answer in time', async () => {
    expect((await readiness(async () => 199)).status).toBe('unready');
    const never = () => new Promise<number>(() => undefined);
    expect(await readReadiness(registry, never, 5_000)).toMatchObject({
      status: 'unready',
      checks: { page: { ok: true }, diskFreeMb: { ok: false, found: 'no answer in time' } },
    });
  });

  it('is none where a page cannot be read, though the database answers', async () => {
    await prisma.$executeRaw`ALTER TABLE "CountedRun" RENAME TO "CountedAway"`;
    expect(await readiness()).toMatchObject({
      status: 'unready',
      checks: { page: { ok: false, found: 'failed' }, workerSilentSeconds: { ok: true } },
    });
    await prisma.$executeRaw`ALTER TABLE "CountedAway" RENAME TO "CountedRun"`;
  });
});

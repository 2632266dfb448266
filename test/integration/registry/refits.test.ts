import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { askForRepeated } from '@/lib/jobs/askForRepeated';
import { inThisThread, type JobHandler } from '@/lib/jobs/jobPlace';
import { pollJobs } from '@/lib/jobs/pollJobs';
import { runPendingJobs } from '@/lib/jobs/runPendingJobs';
import { addCar } from '@/lib/registry/cars/addCar';
import { REPEATED_JOBS } from '@/lib/registry/jobHandlers';
import { readRankings } from '@/lib/registry/rankings/rankings';
import { refitGroup } from '@/lib/registry/rankings/refitGroup';
import { refitPooled } from '@/lib/registry/rankings/refitPooled';
import { requestRefit } from '@/lib/registry/rankings/requestRefit';
import { runJobsNow } from '@/lib/registry/runJobs';
import { retractRun } from '@/lib/registry/runs/retractRun';
import { readSetup } from '@/lib/registry/setups/setup';
import { InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import type { FitSummary } from '@/lib/stats/stored';
import { currentFit } from '@/lib/store/fits';
import { claimNextJob } from '@/lib/store/jobs';
import { freshDatabase } from '@/test/helpers/database';
import { approved, loopOf, person, registryOn, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
afterAll(remove);

const DAY_MS = 86_400_000;
const LARGE = { cruiseClassKey: 'mph-70', world: RECORD };
const SMALL = { cruiseClassKey: 'kmh-110', world: RECORD };
/** What the form of a run at a true 110 km/h says otherwise. */
const AT_110 = { cruiseClassKey: 'kmh-110', trueSpeed: '68.4', indicatedSpeed: '69.5' };

let tester: Actor;
let reviewer: Actor;
let steward: Actor;
let vehicle: Vehicle;
let loopId: string;
const carIds: string[] = [];

async function drive(carId: string, day: string, hour: string, energy: number, form = {}) {
  return approved(registry, tester, reviewer, {
    carId,
    setupId: vehicle.baselineId,
    loopId,
    startedAtLocal: `${day}T${hour}:00`,
    tripEnergy: energy.toFixed(1),
    tripEfficiency: (66.8 / Number(energy.toFixed(1))).toFixed(2),
    ...form,
  });
}

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  steward = await person(registry, 'Noor Vale', 'steward');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
  carIds.push(vehicle.carId);
  for (const name of ['Second', 'Third', 'Fourth', 'Fifth']) {
    const { carId } = await addCar(registry, tester, {
      modelId: vehicle.modelId,
      name,
      placardFrontPa: 290_000,
      placardRearPa: 290_000,
    });
    carIds.push(carId);
  }
  // five cars of two days of two runs each: enough for components, and a class of two runs that is not
  for (const [index, carId] of carIds.entries()) {
    for (const day of [1, 2]) {
      const date = `2026-05-${String(2 * index + day + 10).padStart(2, '0')}`;
      const energy = 32.2 + 0.3 * ((3 * index) % 5) + 0.2 * day * (index % 2);
      await drive(carId, date, '09', energy);
      await drive(carId, date, '12', energy + (index % 3 === 0 ? 0.3 : -0.2));
    }
  }
  await drive(vehicle.carId, '2026-06-01', '09', 31.4, AT_110);
  await drive(vehicle.carId, '2026-06-01', '12', 31.7, AT_110);
  clock.now = new Date(clock.now.getTime() + 60_000);
  await runJobsNow(registry);
}, 240_000);

const jobs = (state?: 'queued') =>
  prisma.job.findMany({ where: { kind: 'refit', key: 'record/mph-70', ...(state ? { state } : {}) } });
const refitOf = async (actor?: Actor) => (await readRankings(registry, { classKey: 'mph-70' }, actor))?.refit;
async function summaryOf(group: typeof LARGE): Promise<{ id: string; summary: FitSummary }> {
  const fit = await currentFit(prisma, group);
  if (fit?.summary === undefined) throw new Error('not fitted');
  return { id: fit.id, summary: fit.summary };
}

const runnerOf = (handlers: Record<string, JobHandler>) => ({
  db: prisma,
  place: inThisThread(() => new Map(Object.entries(handlers))),
  now: registry.now,
  workerId: 'this test',
});

describe('a refit on demand', () => {
  it('is refused to all but stewards, and to those of the demo world outside it', async () => {
    const demoSteward: Actor = { accountId: steward.accountId, role: 'steward', world: 'demo' };
    const before = await jobs();
    for (const actor of [undefined, tester, reviewer, demoSteward]) {
      await expect(requestRefit(registry, actor, LARGE)).rejects.toThrow(NotAllowed);
    }
    expect(await jobs()).toEqual(before);
    // in the demo world that steward may; it has no run here
    await expect(requestRefit(registry, demoSteward, { ...LARGE, world: 'demo' })).rejects.toThrow(NotFound);
  });

  it('is refused for a class that is none or has no run', async () => {
    await expect(requestRefit(registry, steward, { ...LARGE, cruiseClassKey: 'kmh-999' })).rejects.toThrow(
      InvalidInput,
    );
    await expect(requestRefit(registry, steward, { ...LARGE, cruiseClassKey: 'kmh-90' })).rejects.toThrow(
      NotFound,
    );
  });

  it('waits once however often it is asked for, shows, and is done with a new fit', async () => {
    const { id: oldFit } = await summaryOf(LARGE);
    clock.now = new Date(clock.now.getTime() + 60_000);
    const asked = clock.now;
    expect(await requestRefit(registry, steward, LARGE)).toEqual({ isNew: true });
    expect(await requestRefit(registry, steward, LARGE)).toEqual({ isNew: false });
    expect(await jobs('queued')).toHaveLength(1);
    const audit = await prisma.auditEntry.findMany({ where: { action: 'rankings.refit' } });
    expect(audit.map(({ actorId, subjectId }) => [actorId, subjectId])).toEqual([
      [steward.accountId, 'record/mph-70'],
    ]);
    expect(await refitOf()).toMatchObject({ state: 'queued', queuedAt: asked });
    const progressFor = async (actor?: Actor) =>
      (await readRankings(registry, { classKey: 'mph-70' }, actor))?.progress;
    expect(await progressFor(steward)).toMatchObject({ state: 'waiting', done: null });
    expect([await progressFor(tester), await progressFor()]).toEqual([null, null]);
    clock.now = new Date(clock.now.getTime() + 60_000);
    // the fit, what is asked of it once it stands, and what it says of factors
    expect(await runJobsNow(registry)).toBe(3);
    expect(await refitOf()).toMatchObject({ state: 'done', finishedAt: clock.now, error: null });
    const { id: newFit } = await summaryOf(LARGE);
    expect(newFit).not.toBe(oldFit);
    // the same rows and seed: the same digits
    const estimates = (fitId: string) =>
      prisma.estimate.findMany({ where: { fitId }, omit: { fitId: true }, orderBy: { setupId: 'asc' } });
    expect(await estimates(newFit)).toEqual(await estimates(oldFit));
  });

  it('shows to every reader that it runs, and asked for meanwhile runs again afterwards', async () => {
    await requestRefit(registry, steward, LARGE);
    const claimed = await claimNextJob(prisma, {
      workerId: 'another',
      now: clock.now,
      leaseUntil: new Date(clock.now.getTime() + 30_000),
    });
    expect(await refitOf()).toMatchObject({ state: 'running', startedAt: clock.now });
    clock.now = new Date(clock.now.getTime() + 1000);
    expect(await requestRefit(registry, steward, LARGE)).toEqual({ isNew: true });
    expect(await runJobsNow(registry)).toBe(0);
    await prisma.job.update({ where: { id: claimed?.jobId ?? '' }, data: { state: 'done' } });
    // the fit, what is asked of it once it stands, and what it says of factors
    expect(await runJobsNow(registry)).toBe(3);
  });

  it('that fails says why, while it waits to be tried again and for good', async () => {
    const handlers = {
      refit: async () => {
        throw new Error('the matrix is singular');
      },
    };
    clock.now = new Date(clock.now.getTime() + 60_000);
    await requestRefit(registry, steward, LARGE);
    await runPendingJobs(runnerOf(handlers));
    expect(await refitOf()).toMatchObject({
      state: 'queued',
      attempts: 1,
      error: 'the matrix is singular',
    });
    for (let hour = 0; hour < 3; hour += 1) {
      clock.now = new Date(clock.now.getTime() + 3_600_000);
      await runPendingJobs(runnerOf(handlers));
    }
    expect(await refitOf()).toMatchObject({ state: 'failed', error: 'the matrix is singular' });
    clock.now = new Date(clock.now.getTime() + 3_600_000);
    await requestRefit(registry, steward, LARGE);
    await runJobsNow(registry);
    expect(await refitOf()).toMatchObject({ state: 'done', error: null });
  });

  it('is offered to stewards only', async () => {
    const offered = async (actor?: Actor) => (await readRankings(registry, {}, actor))?.mayRefit;
    expect(await Promise.all([undefined, tester, reviewer, steward].map(offered))).toEqual([
      false,
      false,
      false,
      true,
    ]);
  });
});

it('a fit tells how many runs it has read, of how many', async () => {
  const told: [number, number][] = [];
  await refitGroup(registry, LARGE, (done, of) => told.push([done, of]));
  expect(told.map(([done]) => done)).toEqual(told.map((_, index) => index + 1));
  expect(told.at(-1)).toEqual([20, 20]);
});

describe('a class too young for components of its own', () => {
  it('borrows what it cannot see, and says what is assumed', async () => {
    const small = (await summaryOf(SMALL)).summary;
    // two runs of one car on one day: how cars and days differ is assumed, how runs do is hardly seen
    expect(small.origins).toMatchObject({ car: 'assumed', session: 'assumed', residual: 'moderated' });
    expect(small.converged).toBe(true);
    expect(small.notes.join()).toContain('session variation assumed');
    // no car of this registry drove two loops, so there is nothing to pool; yet the fit hangs on the others
    expect([small.usesPooled, small.pooledFrom, small.components.carLoop]).toEqual([true, null, 0]);
    const [estimate] = await prisma.estimate.findMany({ where: { fit: { isCurrent: true, group: SMALL } } });
    expect(estimate).toMatchObject({ intervalKind: 'expectedVariation', isRanked: false });
    const view = await readRankings(registry, { classKey: 'kmh-110' });
    expect(view?.fit.pooledFrom).toBeNull();
    expect(view?.fit.notes.join()).toContain('assumed');
  });

  it('is fitted again by the daily pass after an approval elsewhere, not at once and not for nothing', async () => {
    await runJobsNow(registry);
    clock.now = new Date(clock.now.getTime() + 2 * DAY_MS);
    // nothing has changed: however old the fit, it would be the same
    expect(await refitPooled(registry)).toBe(0);
    const before = await summaryOf(SMALL);
    const run = await drive(carIds[1] ?? '', '2026-06-03', '09', 32.9);
    clock.now = new Date(clock.now.getTime() + 60_000);
    await runJobsNow(registry);
    expect((await summaryOf(SMALL)).id).toBe(before.id);

    const daily = REPEATED_JOBS.filter(({ kind }) => kind === 'refitPooled');
    await askForRepeated(prisma, daily, clock.now);
    await runJobsNow(registry);
    const after = await summaryOf(SMALL);
    expect(after.id).not.toBe(before.id);

    // a retraction counts as well, once the fit is a day old
    clock.now = new Date(clock.now.getTime() + DAY_MS / 2);
    await retractRun(registry, tester, { runId: run.runId, reason: 'The tyre gauge read high that day.' });
    clock.now = new Date(clock.now.getTime() + 60_000);
    await runJobsNow(registry);
    expect(await refitPooled(registry)).toBe(0);
    clock.now = new Date(clock.now.getTime() + DAY_MS);
    expect(await refitPooled(registry)).toBe(1);
    await runJobsNow(registry);
    expect((await summaryOf(SMALL)).summary.components).toEqual(before.summary.components);
    clock.now = new Date(clock.now.getTime() + 2 * DAY_MS);
    expect(await refitPooled(registry)).toBe(0);
  });
});

describe('the daily pass', () => {
  it('is asked for once a day by the worker, whether or not it is started anew', async () => {
    const asked = () => prisma.job.count({ where: { kind: 'refitPooled' } });
    clock.now = new Date(clock.now.getTime() + 2 * DAY_MS);
    const before = await asked();
    const handlers = { refitPooled: async () => {} };
    const startAndStop = async () => {
      const runner = { ...runnerOf(handlers), repeated: REPEATED_JOBS };
      await pollJobs(runner, 10_000, (error) => {
        throw error;
      }).stop();
      await runPendingJobs(runner);
    };
    await startAndStop();
    expect(await asked()).toBe(before + 1);
    clock.now = new Date(clock.now.getTime() + DAY_MS - 1);
    await startAndStop();
    expect(await asked()).toBe(before + 1);
    clock.now = new Date(clock.now.getTime() + 1);
    await startAndStop();
    expect(await asked()).toBe(before + 2);
    expect(await prisma.job.count({ where: { kind: 'refitPooled', state: { not: 'done' } } })).toBe(0);
  });
});

describe('a fit that did not converge', () => {
  it('says so where its intervals are read', async () => {
    const fits = { where: { isCurrent: true, group: LARGE } };
    const { slug } = await prisma.setup.findUniqueOrThrow({ where: { id: vehicle.baselineId } });
    const seen = async () => [
      (await readRankings(registry, { classKey: 'mph-70' }))?.fit.converged,
      (await readSetup(registry, slug))?.estimates.find(({ classKey }) => classKey === 'mph-70')?.converged,
    ];
    expect(await seen()).toEqual([true, true]);
    await prisma.fit.updateMany({ ...fits, data: { converged: false } });
    expect(await seen()).toEqual([false, false]);
    await prisma.fit.updateMany({ ...fits, data: { converged: true } });
  });
});

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { prepareRegistry } from '@/lib/registry/prepareRegistry';
import { readRoadLoad } from '@/lib/registry/roadLoads/roadLoad';
import { runJobsNow } from '@/lib/registry/runJobs';
import { renormaliseAll } from '@/lib/registry/runs/renormaliseAll';
import { retractRun } from '@/lib/registry/runs/retractRun';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);

let tester: Actor;
let reviewer: Actor;
let vehicle: Vehicle;
let loopId: string;
let slug: string;

/** Day, setup and energy in kWh; the speed is that of the class. */
const RUNS = [
  ['2026-05-14', 'baseline', '32.9', '9'],
  ['2026-05-15', 'baseline', '32.4', '16'],
  ['2026-05-16', 'baseline', '32.0', '22'],
  ['2026-05-16', 'low', '30.6', '22'],
] as const;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
  slug = (await prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } })).slug;
  for (const [day, setup, energy, temperature] of RUNS) {
    await approved(registry, tester, reviewer, {
      carId: vehicle.carId,
      setupId: setup === 'low' ? vehicle.lowId : vehicle.baselineId,
      loopId,
      startedAtLocal: `${day}T${setup === 'low' ? '13' : '09'}:30`,
      tripEnergy: energy,
      tripEfficiency: (66.8 / Number(energy)).toFixed(2),
      chargeEnd: '53',
      airTemperature: temperature,
    });
  }
  await runJobsNow(registry);
});
afterAll(remove);

const current = () =>
  prisma.learnedRoadLoad.findMany({ where: { modelId: vehicle.modelId, isCurrent: true } });

describe('a model’s learned road load', () => {
  it('comes with the approval of its runs, from those whose setup leaves it as delivered', async () => {
    const [learned, ...more] = await current();
    expect(more).toEqual([]);
    expect(learned?.runCount).toBe(3);
    const view = await readRoadLoad(registry, { slug, world: 'record' });
    expect(view?.learned).toMatchObject({
      runs: 3,
      cars: 1,
      sessions: 3,
      approvedRuns: 4,
      basis: 'asDelivered',
      leftOut: [{ reason: 'of a setup that changes drag, tyres or drive', runs: 1 }],
      methodVersion: METHOD_VERSION,
    });
    const { prior, posterior } = view?.learned ?? { prior: undefined, posterior: undefined };
    for (let i = 0; i < 3; i++) {
      const ratio = (posterior?.covariance[i]?.[i] ?? 0) / (prior?.covariance[i]?.[i] ?? 0);
      expect(ratio).toBeGreaterThan(0);
      expect(ratio).toBeLessThanOrEqual(1);
    }
    expect(view?.methodVersion).toBe(METHOD_VERSION);
  });

  it('changes no published number: the adjustments go on with the priors', async () => {
    const rows = await prisma.normalisation.findMany({ select: { input: true } });
    for (const { input } of rows) expect(JSON.stringify(input)).not.toContain('dragAreaM2');
  });

  it('follows a retraction; with too few runs left there is none, and the earlier ones stay', async () => {
    const before = await prisma.learnedRoadLoad.count();
    const run = await prisma.run.findFirstOrThrow({
      where: { setupId: vehicle.baselineId, status: 'approved' },
    });
    await retractRun(registry, tester, { runId: run.id, reason: 'The trip meter was reset late.' });
    await runJobsNow(registry);
    expect(await current()).toEqual([]);
    expect(await readRoadLoad(registry, { slug, world: 'record' })).toMatchObject({ learned: null });
    expect(await prisma.learnedRoadLoad.count()).toBe(before);
  });
});

describe('a difference within one car and day', () => {
  it('carries in its interval what the two setups share and does not cancel', async () => {
    const contrast = await prisma.contrast.findFirstOrThrow({ orderBy: { fit: { fittedAt: 'asc' } } });
    expect(contrast.kind).toBe('session');
    expect(contrast.sharedULog).toBeGreaterThan(0);
    expect(contrast.logSe).toBeGreaterThan(contrast.sharedULog as number);
    // each result alone is unsure by some 3 % through model and method; the same car on the same day by next to nothing
    expect(contrast.sharedULog).toBeLessThan(0.003);
  });
});

describe('a new version of the method', () => {
  it('recomputes every revision at the start, keeps the old values and concludes anew', async () => {
    // an unapproved run as well: every revision is brought under the new version
    await submitted(registry, tester, {
      carId: vehicle.carId,
      setupId: vehicle.baselineId,
      loopId,
      startedAtLocal: '2026-05-20T09:30',
    });
    // As an earlier engine would have left them: another version, other values.
    const fresh = await prisma.normalisation.findMany({ orderBy: { revisionId: 'asc' } });
    await prisma.normalisation.updateMany({
      data: { methodVersion: '0+priors0', normalisedWhPerKm: 111 },
    });
    await prepareRegistry(registry);
    await prepareRegistry(registry);
    expect(await prisma.job.count({ where: { kind: 'renormalise', state: 'queued' } })).toBe(1);
    const fits = await prisma.fit.count();
    await runJobsNow(registry);
    expect(await prisma.job.count({ where: { state: { not: 'done' } } })).toBe(0);
    const old = await prisma.normalisation.findMany({ where: { methodVersion: '0+priors0' } });
    expect(old.map((row) => row.normalisedWhPerKm)).toEqual(RUNS.map(() => 111).concat(111));
    const again = await prisma.normalisation.findMany({
      where: { methodVersion: METHOD_VERSION },
      orderBy: { revisionId: 'asc' },
    });
    expect(again.map((row) => [row.revisionId, row.normalisedWhPerKm, row.result])).toEqual(
      fresh.map((row) => [row.revisionId, row.normalisedWhPerKm, row.result]),
    );
    expect(await prisma.fit.count()).toBe(fits + 1);
    const fit = await prisma.fit.findFirstOrThrow({ where: { isCurrent: true } });
    expect(fit).toMatchObject({ methodVersion: METHOD_VERSION, runCount: 3 });
    // nothing is left to do, at the next start or by hand
    expect(await renormaliseAll(registry)).toBe(0);
    await prepareRegistry(registry);
    expect(await prisma.job.count({ where: { kind: 'renormalise', state: 'queued' } })).toBe(0);
  });

  it('names the revision that it cannot compute, and computes all others', async () => {
    const [first] = await prisma.normalisation.findMany({ where: { methodVersion: METHOD_VERSION } });
    await prisma.normalisation.deleteMany({ where: { methodVersion: METHOD_VERSION } });
    // from before inputs were kept, with a form that no parser reads any more
    await prisma.$executeRaw`ALTER TABLE "RevisionInputs" DISABLE TRIGGER "RevisionInputs_append_only"`;
    await prisma.revisionInputs.delete({ where: { revisionId: first?.revisionId ?? '' } });
    await prisma.$executeRaw`ALTER TABLE "RevisionInputs" ENABLE TRIGGER "RevisionInputs_append_only"`;
    await prisma.$executeRaw`ALTER TABLE "RunRevision" DISABLE TRIGGER "RunRevision_append_only"`;
    await prisma.runRevision.update({
      where: { id: first?.revisionId ?? '' },
      data: { form: { tripEnergy: 'plenty' } },
    });
    await prisma.$executeRaw`ALTER TABLE "RunRevision" ENABLE TRIGGER "RunRevision_append_only"`;
    await expect(renormaliseAll(registry)).rejects.toMatchObject({
      name: 'RenormalisationIncomplete',
      done: RUNS.length,
      failures: [expect.stringMatching(/^run \d+, revision 1: /)],
    });
    expect(await prisma.normalisation.count({ where: { methodVersion: METHOD_VERSION } })).toBe(RUNS.length);
  });
});

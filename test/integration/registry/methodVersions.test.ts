import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { addCar } from '@/lib/registry/cars/addCar';
import { adoptRoadLoads } from '@/lib/registry/method/adoptRoadLoads';
import { methodInEffect } from '@/lib/registry/method/methodInEffect';
import { methodPage } from '@/lib/registry/method/methodPage';
import { readAdoptions } from '@/lib/registry/method/methodVersions';
import type { Registry } from '@/lib/registry/registry';
import { readRoadLoad } from '@/lib/registry/roadLoads/roadLoad';
import { runJobsNow } from '@/lib/registry/runJobs';
import { readPublicRuns } from '@/lib/registry/runs/publicRuns';
import { readRun } from '@/lib/registry/runs/run';
import { Conflict, InvalidInput, NotAllowed } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { WorldKey } from '@/lib/run/world';
import { publishMethodVersion } from '@/lib/store/methodVersions';
import { freshDatabase } from '@/test/helpers/database';
import {
  approved,
  loopOf,
  person,
  registryOn,
  signedInAs,
  submitted,
  type Vehicle,
  vehicleOf,
} from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);
const demoRegistry: Registry = { ...registry, world: 'demo' };
const LEARNED = `${METHOD_VERSION}+learned1`;
const DEMO_LEARNED = `${METHOD_VERSION}+demoLearned1`;
const SUMMARY = 'Runs of this autumn tell drag from rolling.';

let steward: Actor;
let demoSteward: Actor;
let tester: Actor;
let reviewer: Actor;
let steady: Vehicle;
let erratic: Vehicle;
let demo: Vehicle;
let loopId: string;

/** Energies of one model's runs in kWh, one a day, by two cars in turn: alike, or cars that foretell nothing of each other. */
const STEADY = ['32.9', '32.6', '32.8', '32.5'];
const ERRATIC = ['25.1', '40.3', '29.8', '44.0'];

async function drive(on: Registry, who: Actor, judge: Actor, vehicle: Vehicle, loop: string, kWh: string[]) {
  // one car alone would not be taken for its model
  const { carId } = await addCar(on, who, {
    modelId: vehicle.modelId,
    name: `the other of ${vehicle.carId.slice(-6)}`,
    placardFrontPa: 290_000,
    placardRearPa: 290_000,
  });
  for (const [i, tripEnergy] of kWh.entries()) {
    await approved(on, who, judge, {
      carId: i % 2 === 0 ? vehicle.carId : carId,
      setupId: vehicle.baselineId,
      loopId: loop,
      startedAtLocal: `2026-05-${10 + i}T09:30`,
      tripEnergy,
      outboundEnergy: (Number(tripEnergy) / 2).toFixed(1),
      tripEfficiency: (66.8 / Number(tripEnergy)).toFixed(2),
      chargeEnd: String(Math.round(80 - Number(tripEnergy) / 1.2)),
    });
  }
}

const slugOf = async (vehicle: Vehicle) =>
  (await prisma.vehicleModel.findUniqueOrThrow({ where: { id: vehicle.modelId } })).slug;
const adoptionOf = async (world: WorldKey, actor = steward) => {
  const found = (await readAdoptions(registry, actor)).find((one) => one.world === world);
  if (found === undefined) throw new Error('not theirs');
  return found;
};
const proposal = async (world: WorldKey) => {
  const { adoptable, currentVersionId } = await adoptionOf(world);
  return {
    world,
    seenVersionId: currentVersionId,
    learnedIds: adoptable.map(({ learnedId }) => learnedId),
    summary: SUMMARY,
  };
};
const rows = (vehicle: Vehicle, methodVersion: string) =>
  prisma.normalisation.findMany({
    where: { methodVersion, revision: { run: { setup: { modelId: vehicle.modelId } } } },
    orderBy: { revisionId: 'asc' },
  });

beforeAll(async () => {
  steward = await person(registry, 'Sol Ward', 'steward');
  tester = await person(registry, 'Mira Holm');
  reviewer = await person(registry, 'Ada Quill', 'reviewer');
  steady = await vehicleOf(registry, tester);
  erratic = await vehicleOf(registry, tester, 'Fell');
  loopId = await loopOf(registry, tester);
  await drive(registry, tester, reviewer, steady, loopId, STEADY);
  await drive(registry, tester, reviewer, erratic, loopId, ERRATIC);
  const demoPerson = async (name: string, role: Actor['role']) => {
    const { accountId } = await person(demoRegistry, name, role);
    return signedInAs(registry, accountId);
  };
  const demoTester = await demoPerson('Demo Tester', 'tester');
  demoSteward = await demoPerson('Demo Steward', 'steward');
  demo = await vehicleOf(demoRegistry, demoTester, 'Gannet');
  const demoLoopId = await loopOf(demoRegistry, demoTester, 'Demo causeway');
  const demoReviewer = await demoPerson('Demo Reviewer', 'reviewer');
  await drive(demoRegistry, demoTester, demoReviewer, demo, demoLoopId, STEADY);
  await runJobsNow(registry);
  clock.now = new Date('2026-11-02T12:00:00Z');
}, 120_000);
afterAll(remove);

describe('before anything is adopted', () => {
  it('a steward sees what would be adopted and what would not, each world apart', async () => {
    const record = await adoptionOf('record');
    expect(record).toMatchObject({ label: METHOD_VERSION, currentVersionId: null, returning: 0 });
    expect(record.candidates.map(({ slug }) => slug).toSorted()).toEqual(
      [await slugOf(steady), await slugOf(erratic)].toSorted(),
    );
    expect(record.adoptable.map(({ slug }) => slug)).toEqual([await slugOf(steady)]);
    expect(record.adoptable[0]?.gainPerRun).toBeGreaterThan(0);
    const refused = record.candidates.find(({ refusal }) => refusal !== null);
    expect(refused?.gainPerRun).toBeLessThanOrEqual(0);
    expect((await adoptionOf('demo')).candidates.map(({ slug }) => slug)).toEqual([await slugOf(demo)]);
    expect((await readAdoptions(registry, demoSteward)).map(({ world }) => world)).toEqual(['demo']);
    await expect(readAdoptions(registry, reviewer)).rejects.toBeInstanceOf(NotAllowed);
  });

  it('only stewards adopt, and demo stewards for the demo world alone', async () => {
    const input = await proposal('record');
    for (const actor of [undefined, tester, reviewer, demoSteward]) {
      await expect(adoptRoadLoads(registry, actor, input)).rejects.toBeInstanceOf(NotAllowed);
    }
    expect(await prisma.methodVersion.count()).toBe(0);
  });

  it('it needs a reason, and adopts nothing but what was seen', async () => {
    const input = await proposal('record');
    await expect(adoptRoadLoads(registry, steward, { ...input, summary: ' ' })).rejects.toBeInstanceOf(
      InvalidInput,
    );
    await expect(adoptRoadLoads(registry, steward, { ...input, learnedIds: [] })).rejects.toBeInstanceOf(
      InvalidInput,
    );
    const foreign = (await proposal('demo')).learnedIds;
    await expect(adoptRoadLoads(registry, steward, { ...input, learnedIds: foreign })).rejects.toBeInstanceOf(
      Conflict,
    );
    const erraticId = (await adoptionOf('record')).candidates.find(
      ({ refusal }) => refusal !== null,
    )?.learnedId;
    await expect(
      adoptRoadLoads(registry, steward, { ...input, learnedIds: [...input.learnedIds, erraticId] }),
    ).rejects.toBeInstanceOf(Conflict);
    expect(await prisma.methodVersion.count()).toBe(0);
  });
});

describe('an adoption', () => {
  it('asked for twice at once is made once', async () => {
    const input = await proposal('record');
    const results = await Promise.allSettled([
      adoptRoadLoads(registry, steward, input),
      adoptRoadLoads(registry, steward, input),
    ]);
    expect(results.map(({ status }) => status).toSorted()).toEqual(['fulfilled', 'rejected']);
    expect(results.find((result) => result.status === 'rejected')?.reason).toBeInstanceOf(Conflict);
    expect(await prisma.methodVersion.findMany()).toMatchObject([
      {
        label: LEARNED,
        engine: METHOD_VERSION,
        world: 'record',
        ordinal: 1,
        isCurrent: true,
        summary: SUMMARY,
      },
    ]);
    expect(await prisma.auditEntry.findMany({ where: { action: 'method.adopt' } })).toMatchObject([
      { actorId: steward.accountId, details: { label: LEARNED, models: [await slugOf(steady)] } },
    ]);
  });

  it('until it is computed, pages show the earlier numbers', async () => {
    const runs = await readPublicRuns(registry, { world: 'record' }, 1000);
    expect(runs).toHaveLength(STEADY.length + ERRATIC.length);
    for (const run of runs) expect(run.normalisedWhPerKm).not.toBeNull();
    expect((await adoptionOf('record')).isComputing).toBe(true);
  });

  it('brings every run of its world under the new version beside the old one', async () => {
    const before = await rows(steady, METHOD_VERSION);
    await runJobsNow(registry);
    expect(await prisma.job.count({ where: { state: { not: 'done' } } })).toBe(0);
    expect(await rows(steady, METHOD_VERSION)).toEqual(before);
    const after = await rows(steady, LEARNED);
    expect(after).toHaveLength(STEADY.length);
    for (const [i, row] of after.entries()) {
      const { vehicle, uncertainty } = row.input as {
        vehicle: { dragAreaM2: number };
        uncertainty: { dragAreaM2: { scope: string } };
      };
      const adopted = await prisma.adoptedRoadLoad.findFirstOrThrow({
        where: { modelId: steady.modelId },
      });
      const { mean } = adopted.posterior as { mean: number[] };
      expect(vehicle.dragAreaM2).toBeCloseTo((mean[0] ?? 0) * 0.9, 12);
      expect(uncertainty.dragAreaM2.scope).toBe('model');
      expect(row.measuredWhPerKm).toBe(before[i]?.measuredWhPerKm);
      expect(row.normalisedWhPerKm).not.toBe(before[i]?.normalisedWhPerKm);
    }
  });

  it('leaves a model that does not beat its priors with them, number for number', async () => {
    const [old, again] = [await rows(erratic, METHOD_VERSION), await rows(erratic, LEARNED)];
    expect(again).toHaveLength(ERRATIC.length);
    expect(again.map((row) => row.normalisedWhPerKm)).toEqual(old.map((row) => row.normalisedWhPerKm));
    expect(again.map((row) => row.input)).toEqual(old.map((row) => row.input));
  });

  it('moves the fit to the new version and keeps the old one', async () => {
    const fits = await prisma.fit.findMany({ where: { group: { world: 'record' } } });
    expect(fits.filter(({ isCurrent }) => isCurrent)).toMatchObject([
      { methodVersion: LEARNED, runCount: STEADY.length + ERRATIC.length },
    ]);
    expect(fits.some(({ methodVersion }) => methodVersion === METHOD_VERSION)).toBe(true);
  });

  it('does not reach the demo world', async () => {
    expect(await rows(demo, LEARNED)).toEqual([]);
    expect(await rows(demo, METHOD_VERSION)).toHaveLength(STEADY.length);
    expect(
      await prisma.fit.findFirstOrThrow({ where: { isCurrent: true, group: { world: 'demo' } } }),
    ).toMatchObject({ methodVersion: METHOD_VERSION });
    expect((await adoptionOf('demo')).label).toBe(METHOD_VERSION);
  });

  it('is said on the method’s page, the model’s and the run’s, where the earlier number stays', async () => {
    const view = await methodPage(registry);
    expect(view).toMatchObject({ methodVersion: LEARNED, engine: METHOD_VERSION });
    expect(view.versions).toMatchObject([
      {
        label: LEARNED,
        on: '2026-11-02',
        by: 'Sol Ward',
        summary: SUMMARY,
        isCurrent: true,
        models: [{ slug: await slugOf(steady), runs: STEADY.length }],
      },
    ]);
    const roadLoad = (vehicle: Vehicle, world: WorldKey) =>
      slugOf(vehicle).then((slug) => readRoadLoad(registry, { slug, world }));
    expect(await roadLoad(steady, 'record')).toMatchObject({
      methodVersion: LEARNED,
      adopted: { label: LEARNED, on: '2026-11-02', runs: STEADY.length },
      learned: { methodVersion: LEARNED },
    });
    expect((await roadLoad(erratic, 'record')).adopted).toBeNull();
    expect(await roadLoad(demo, 'demo')).toMatchObject({ methodVersion: METHOD_VERSION, adopted: null });
    const run = await prisma.run.findFirstOrThrow({ where: { setupId: steady.baselineId } });
    const { result } = (await readRun(registry, undefined, run.number)) ?? {};
    expect(result).toMatchObject({
      methodVersion: LEARNED,
      isCurrentMethod: true,
      earlier: [{ methodVersion: METHOD_VERSION }],
      sources: { dragAreaM2: { of: 'learned' }, rollingCoefficient: { of: 'learned' } },
    });
  });

  it('holds for runs sent from then on, in a setup that changes drag with an input for the change', async () => {
    const { runId } = await submitted(registry, tester, {
      carId: steady.carId,
      setupId: steady.lowId,
      loopId,
      startedAtLocal: '2026-05-20T09:30',
    });
    const sent = await prisma.normalisation.findMany({ where: { revision: { runId } } });
    expect(sent).toHaveLength(1);
    expect(sent[0]?.methodVersion).toBe(LEARNED);
    const input = sent[0]?.input as { vehicle: Record<string, number> } | undefined;
    const [asLearned] = await rows(steady, LEARNED);
    const learned = asLearned?.input as typeof input;
    expect(input?.vehicle.dragAreaM2).toBe(learned?.vehicle.dragAreaM2);
    expect(input?.vehicle.rollingCoefficient).toBe(learned?.vehicle.rollingCoefficient);
    expect(input?.vehicle.dragOfSetup).toBe(1);
    expect(learned?.vehicle.dragOfSetup).toBeUndefined();
  });

  it('from a setup of its own knows the tyres of that setup', async () => {
    const level = await prisma.factorLevel.create({
      data: {
        modelId: steady.modelId,
        factor: 'wheelTyre',
        key: 'knobbly',
        label: 'Knobbly',
        tyreKind: 'allTerrain',
      },
    });
    const {
      posterior,
      methodVersionId: _,
      ...adopted
    } = await prisma.adoptedRoadLoad.findFirstOrThrow({
      where: { modelId: steady.modelId },
    });
    const levels = [
      { factor: 'wheelTyre', levelId: level.id },
      { factor: 'rideHeight', levelId: steady.modelId },
    ];
    const ofSetup = prisma.$transaction(async (tx) => {
      await publishMethodVersion(tx, {
        label: 'of a setup of its own',
        engine: METHOD_VERSION,
        world: 'record',
        ordinal: 9,
        adoptedAt: new Date(),
        adoptedById: steward.accountId,
        summary: SUMMARY,
        roadLoads: [{ ...adopted, posterior: posterior as never, levels }],
      });
      const { roadLoads } = await methodInEffect(tx, 'record');
      // nothing of it stays
      throw Object.assign(new Error('seen'), { levels: roadLoads.get(steady.modelId)?.levels });
    });
    await expect(ofSetup).rejects.toMatchObject({
      message: 'seen',
      levels: [
        { ...levels[0], tyreKind: 'allTerrain' },
        { ...levels[1], tyreKind: null },
      ],
    });
  });

  it('by a demo steward is the demo world’s alone', async () => {
    const { label } = await adoptRoadLoads(
      registry,
      { ...demoSteward, provedAt: registry.now() },
      await proposal('demo'),
    );
    expect(label).toBe(DEMO_LEARNED);
    await runJobsNow(registry);
    expect(await rows(demo, DEMO_LEARNED)).toHaveLength(STEADY.length);
    expect(await rows(steady, DEMO_LEARNED)).toEqual([]);
    expect((await adoptionOf('record')).label).toBe(LEARNED);
    expect((await adoptionOf('demo')).label).toBe(DEMO_LEARNED);
    const runs = await readPublicRuns(registry, { world: 'demo' }, 1000);
    const stored = await rows(demo, DEMO_LEARNED);
    // Counted on the log scale: the same to the last digits.
    const digits = (of: { normalisedWhPerKm: number | null }[]) =>
      of.map((row) => row.normalisedWhPerKm?.toPrecision(13)).toSorted();
    expect(digits(runs)).toEqual(digits(stored));
  });

  it('learns on from the priors: adopting again what the same runs say changes nothing', async () => {
    const first = await prisma.adoptedRoadLoad.findFirstOrThrow({ where: { modelId: steady.modelId } });
    await adoptRoadLoads(registry, steward, await proposal('record'));
    await runJobsNow(registry);
    const [latest] = await prisma.adoptedRoadLoad.findMany({
      where: { modelId: steady.modelId, methodVersion: { isCurrent: true } },
    });
    const posterior = (row: { posterior: unknown } | undefined) =>
      row?.posterior as { mean: number[]; covariance: number[][] } | undefined;
    const drag = (row: { posterior: unknown } | undefined) => posterior(row)?.mean[0] ?? Number.NaN;
    const variance = (row: { posterior: unknown } | undefined) =>
      posterior(row)?.covariance[0]?.[0] ?? Number.NaN;
    expect(latest?.methodVersionId).not.toBe(first.methodVersionId);
    // only the scatter assumed of cars, days and runs may have moved with the fit, not the number of runs counted
    expect(drag(latest) / drag(first)).toBeCloseTo(1, 1);
    expect(variance(latest) / variance(first)).toBeGreaterThan(0.9);
    expect(await prisma.methodVersion.count({ where: { world: 'record', isCurrent: true } })).toBe(1);
    expect((await methodPage(registry)).methodVersion).toBe(`${METHOD_VERSION}+learned2`);
  });
});

describe('runs sent while a version is adopted', () => {
  it('end up under the version in effect, or are asked to be sent again', async () => {
    const send = (minute: number) =>
      submitted(registry, tester, {
        carId: steady.carId,
        setupId: steady.baselineId,
        loopId,
        startedAtLocal: `2026-05-21T09:${minute}`,
        tripEnergy: `32.${minute}`,
      });
    const input = await proposal('record');
    const [adoption, ...sent] = await Promise.allSettled([
      adoptRoadLoads(registry, steward, input),
      ...[10, 20, 30].map(send),
    ]);
    expect(adoption?.status).toBe('fulfilled');
    for (const one of sent) {
      if (one.status === 'rejected') expect(one.reason).toBeInstanceOf(Conflict);
    }
    await runJobsNow(registry);
    const { label } = await adoptionOf('record');
    const without = await prisma.runRevision.count({
      where: { run: { world: 'record' }, normalisations: { none: { methodVersion: label } } },
    });
    expect(without).toBe(0);
  });
});

describe('what was adopted', () => {
  it('is neither altered nor removed, nor given what is not of its model and world', async () => {
    const version = await prisma.methodVersion.findFirstOrThrow({
      where: { world: 'record', isCurrent: true },
    });
    const where = { id: version.id };
    await expect(prisma.methodVersion.update({ where, data: { summary: 'Another.' } })).rejects.toThrow(
      /not altered/,
    );
    await expect(prisma.methodVersion.delete({ where })).rejects.toThrow();
    await expect(prisma.adoptedRoadLoad.updateMany({ data: { runCount: 1 } })).rejects.toThrow(/append-only/);
    await expect(prisma.adoptedRoadLoad.deleteMany()).rejects.toThrow(/append-only/);
    await expect(
      prisma.methodVersion.updateMany({ where: { world: 'record' }, data: { isCurrent: true } }),
    ).rejects.toThrow(/MethodVersion_one_current/);
    const ofDemo = await prisma.adoptedRoadLoad.findFirstOrThrow({ where: { modelId: demo.modelId } });
    await expect(
      prisma.adoptedRoadLoad.create({
        data: {
          methodVersionId: version.id,
          modelId: demo.modelId,
          learnedRoadLoadId: ofDemo.learnedRoadLoadId,
          runCount: 4,
          gainPerRun: 1,
          posterior: {},
          levels: [],
        },
      }),
    ).rejects.toThrow(/not one of this model and world/);
  });
});

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSnapshot } from '@/lib/reduction/stored';
import { changeCar } from '@/lib/registry/cars/changeCar';
import { prepareRegistry } from '@/lib/registry/prepareRegistry';
import { runJobsNow } from '@/lib/registry/runJobs';
import { rebuildInputs } from '@/lib/registry/runs/rebuildInputs';
import { renormaliseAll } from '@/lib/registry/runs/renormaliseAll';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
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
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  const reviewer = await person(registry, 'Ada Quill', 'reviewer');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
  await approved(registry, tester, reviewer, { ...ids(), notes: 'seat of my neighbour' });
  await approved(registry, tester, reviewer, { ...ids(), startedAtLocal: '2026-05-15T09:30' });
  await runJobsNow(registry);
});
afterAll(remove);

const ids = () => ({ carId: vehicle.carId, setupId: vehicle.baselineId, loopId });
const results = () =>
  prisma.normalisation.findMany({
    orderBy: { revisionId: 'asc' },
    select: { revisionId: true, input: true, result: true, normalisedWhPerKm: true, uWhPerKm: true },
  });
const inputs = () => prisma.revisionInputs.findMany({ orderBy: { revisionId: 'asc' } });

/** As a registry has it whose revisions were made before inputs were kept. */
async function forgetInputs(): Promise<void> {
  await prisma.$executeRaw`ALTER TABLE "RevisionInputs" DISABLE TRIGGER "RevisionInputs_append_only"`;
  await prisma.revisionInputs.deleteMany();
  await prisma.$executeRaw`ALTER TABLE "RevisionInputs" ENABLE TRIGGER "RevisionInputs_append_only"`;
}

describe('what a revision was made from', () => {
  it('is kept with it at submission, without what was written freely, and never changes', async () => {
    const rows = await inputs();
    expect(rows.map(({ origin }) => origin)).toEqual(['submitted', 'submitted']);
    const read = readSnapshot(rows[0]?.snapshot);
    expect(read.ok && read.snapshot).toMatchObject({
      record: { carId: vehicle.carId, localDate: '2026-05-14' },
      car: { id: vehicle.carId, dragAreaM2: null },
      model: { id: vehicle.modelId, kerbMassKg: 2900 },
      loop: { lengthM: 107_500, legs: [{ netClimbM: 10 }, { netClimbM: -10 }] },
    });
    expect(JSON.stringify(rows)).not.toContain('neighbour');
    await expect(prisma.revisionInputs.updateMany({ data: { origin: 'reconstructed' } })).rejects.toThrow(
      /append-only/,
    );
    await expect(prisma.revisionInputs.deleteMany()).rejects.toThrow(/append-only/);
  });

  it('is all that a recomputation reads: a car’s, model’s and loop’s later values move nothing', async () => {
    const before = await results();
    await changeCar(registry, tester, {
      carId: vehicle.carId,
      name: 'Skerry',
      registeredMassKg: 3222,
      dragAreaM2: 0.9,
      ownValuesSource: 'Own measurement, June',
    });
    await prisma.vehicleModel.update({ where: { id: vehicle.modelId }, data: { kerbMassKg: 2500 } });
    await prisma.loop.update({ where: { id: loopId }, data: { lengthM: 108_000, netClimbM: 30 } });
    await prisma.normalisation.deleteMany();
    expect(await renormaliseAll(registry)).toBe(2);
    expect(await results()).toEqual(before);
    // a run submitted from now on is reduced with what is known now
    await submitted(registry, tester, { ...ids(), startedAtLocal: '2026-06-20T09:30' });
    const newest = (await results()).find(({ revisionId }) =>
      before.every((each) => each.revisionId !== revisionId),
    );
    expect(newest?.input).toMatchObject({ vehicle: { massKg: 3317, dragAreaM2: 0.9 } });
  });
});

describe('revisions from before', () => {
  it('are given theirs once, at the next start, marked as rebuilt', async () => {
    const [kept] = (await inputs()).slice(-1);
    await forgetInputs();
    await prepareRegistry(registry);
    await prepareRegistry(registry);
    expect(await prisma.job.count({ where: { kind: 'rebuildInputs', state: 'queued' } })).toBe(1);
    await runJobsNow(registry);
    const rebuilt = await inputs();
    expect(rebuilt.map(({ origin }) => origin)).toEqual(Array(3).fill('reconstructed'));
    // of the newest nothing has changed since: rebuilt it is what it was
    expect(rebuilt.at(-1)?.snapshot).toEqual(kept?.snapshot);
    expect(await rebuildInputs(registry)).toBe(0);
    await prepareRegistry(registry);
    expect(await prisma.job.count({ where: { kind: 'rebuildInputs', state: 'queued' } })).toBe(0);
  });

  it('are rebuilt before they are recomputed', async () => {
    await forgetInputs();
    await prisma.normalisation.deleteMany();
    expect(await renormaliseAll(registry)).toBe(3);
    expect((await inputs()).map(({ origin }) => origin)).toEqual(Array(3).fill('reconstructed'));
  });

  it('that cannot be read are named, and keep no other from its result', async () => {
    const [first] = await inputs();
    await forgetInputs();
    await prisma.revisionInputs.create({
      data: { revisionId: first?.revisionId ?? '', origin: 'submitted', snapshot: { version: 99 } },
    });
    await prisma.normalisation.deleteMany();
    await expect(renormaliseAll(registry)).rejects.toMatchObject({
      done: 2,
      failures: [expect.stringMatching(/^run \d+, revision 1: what it was made from cannot be read/)],
    });
    expect(await prisma.normalisation.count()).toBe(2);
  });
});

describe('a factor', () => {
  it('is known to the code alone: the database takes a new one, the edge refuses an unknown one', async () => {
    const level = { modelId: vehicle.modelId, factor: 'wheelCovers', key: 'on', label: 'on' };
    const { id } = await prisma.factorLevel.create({ data: level });
    await prisma.factorLevel.delete({ where: { id } });
    await expect(prisma.factorLevel.create({ data: { ...level, factor: '__proto__' } })).rejects.toThrow(
      /FactorLevel_factor/,
    );
    await expect(
      addFactorLevel(registry, tester, { modelId: vehicle.modelId, factor: 'sails', label: 'set' }),
    ).rejects.toMatchObject({ name: 'InvalidInput' });
  });
});

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSnapshot } from '@/lib/reduction/stored';
import { addCar } from '@/lib/registry/cars/addCar';
import { neighbourhoodOf } from '@/lib/registry/runs/neighbourhood';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { neighbourReadings } from '@/lib/store/neighbours';
import { freshDatabase } from '@/test/helpers/database';
import { approved, loopOf, person, registryOn, submitted, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let mira: Actor;
let thief: Actor;
let of: { mira: RunForm; thief: RunForm };
let elsewhere: string;

beforeAll(async () => {
  mira = await person(registry, 'Mira Holm');
  thief = await person(registry, 'Jo Kite');
  const loopId = await loopOf(registry, mira);
  elsewhere = await loopOf(registry, thief, 'South causeway');
  const [hers, his] = [await vehicleOf(registry, mira, 'Gull'), await vehicleOf(registry, thief, 'Tern')];
  of = {
    // Nothing tells them apart but what a test changes.
    mira: { carId: hers.carId, setupId: hers.baselineId, loopId, odometerStart: '' },
    thief: { carId: his.carId, setupId: his.baselineId, loopId: elsewhere, odometerStart: '' },
  };
});

async function sent(actor: Actor, form: RunForm) {
  const run = await submitted(registry, actor, form);
  const findings = await prisma.finding.findMany({
    where: { revision: { runId: run.runId } },
    select: { ruleId: true, outcome: true, sentence: true },
  });
  return { ...run, of: (id: string) => findings.find(({ ruleId }) => ruleId === id) };
}

describe('a run beside those that were there before', () => {
  it('is found where its readings are another tester’s, whatever car, loop and day it is written down for', async () => {
    const first = await sent(mira, { ...of.mira, startedAtLocal: '2026-05-10T09:00' });
    expect(first.of('copied-readings')).toMatchObject({ outcome: 'pass' });
    const copy = await sent(thief, { ...of.thief, startedAtLocal: '2026-06-20T14:00' });
    expect(copy.of('copied-readings')).toMatchObject({
      outcome: 'fail',
      sentence: expect.stringContaining(`run ${first.runNumber} of another tester`),
    });
    const changed = {
      tripEnergy: '32.95',
      tripEfficiency: '2.03',
      outboundEnergy: '16.62',
      airTemperature: '11',
    };
    const near = await sent(thief, { ...of.thief, ...changed, startedAtLocal: '2026-06-21T14:00' });
    expect([near.of('copied-readings')?.outcome, near.of('nearly-copied-readings')?.outcome]).toEqual([
      'pass',
      'caution',
    ]);
    // whoever was first is not found by it
    const again = await prisma.finding.count({
      where: { revision: { runId: first.runId }, ruleId: 'copied-readings', outcome: 'pass' },
    });
    expect(again).toBe(1);
  });

  it('is found where its car, or its tester, was under way elsewhere', async () => {
    const { carId } = await vehicleOf(registry, thief, 'Knot');
    const other = { tripEnergy: '31.1', tripEfficiency: '2.15', outboundEnergy: '15.4', chargeEnd: '53' };
    const first = await sent(thief, { ...of.thief, ...other, startedAtLocal: '2026-07-01T09:00' });
    expect(first.of('one-drive-at-a-time')?.outcome).toBe('pass');
    const both = { ...other, tripEnergy: '31.9', tripEfficiency: '2.09', startedAtLocal: '2026-07-01T09:30' };
    const same = await sent(thief, { ...of.thief, ...both, loopId: of.mira.loopId ?? '' });
    expect(same.of('one-drive-at-a-time')).toMatchObject({
      outcome: 'fail',
      sentence: expect.stringContaining('The car, on another loop, was under way'),
    });
    const setup = await prisma.setup.findFirstOrThrow({
      where: { model: { cars: { some: { id: carId } } }, levels: { none: {} } },
    });
    const lent = await sent(thief, {
      ...of.thief,
      ...both,
      carId,
      setupId: setup.id,
      startedAtLocal: '2026-07-01T09:40',
    });
    expect(lent.of('one-drive-at-a-time')?.outcome).toBe('caution');
  });

  it('is held against no more than a bounded number of them', async () => {
    const run = await prisma.run.findFirstOrThrow({
      where: { testerId: thief.accountId, status: 'submitted' },
    });
    const of = {
      runId: run.id,
      testerId: thief.accountId,
      startedAt: new Date('2026-06-20T12:00:00Z'),
      tripEnergyWh: 32_900,
      sentAt: registry.now(),
    };
    const rows = await neighbourReadings(prisma, of, 0.02);
    expect(new Set(rows.map(({ runNumber }) => runNumber)).size).toBeLessThanOrEqual(120);
    expect(rows.some(({ runNumber }) => runNumber === run.number)).toBe(false);
    // nothing that was sent in later
    expect(await neighbourReadings(prisma, { ...of, sentAt: new Date(0) }, 0.02)).toEqual([]);
  });
});

describe('how repeated runs scatter', () => {
  it('is told of the tester, of the setup by whoever drove it, and of all who count as one with the tester', async () => {
    const reviewer = await person(registry, 'Ada Quill', 'reviewer');
    const [ann, ally, stranger] = [
      await person(registry, 'Ann Holt'),
      await person(registry, 'Alma Rook'),
      await person(registry, 'Sven Dahl'),
    ];
    const { modelId, baselineId, lowId } = await vehicleOf(registry, ann, 'Dunlin');
    const loopId = await loopOf(registry, ann, 'East causeway');
    // no two drives show the same
    let energy = 33.1;
    const drive = async (actor: Actor, setups: readonly string[]) => {
      const { carId } = await addCar(registry, actor, { modelId, name: 'Mine' });
      const runs = [];
      for (const [at, setupId] of setups.entries()) {
        energy = Number((energy + 0.1).toFixed(1));
        runs.push(
          await approved(registry, actor, reviewer, {
            carId,
            setupId,
            loopId,
            startedAtLocal: `2026-08-10T${String(7 + 2 * at).padStart(2, '0')}:00`,
            tripEnergy: energy.toFixed(1),
            tripEfficiency: (66.8 / energy).toFixed(2),
          }),
        );
      }
      return runs;
    };
    await drive(ally, [baselineId, baselineId]);
    await drive(stranger, [baselineId, baselineId]);
    const [last] = (await drive(ann, [lowId, lowId, baselineId, baselineId, baselineId])).slice(-1);
    const group = await prisma.comparisonGroup.upsert({
      where: { cruiseClassKey_world: { cruiseClassKey: 'mph-70', world: 'record' } },
      create: { cruiseClassKey: 'mph-70', world: 'record' },
      update: {},
    });
    const fit = {
      groupId: group.id,
      methodVersion: 'any',
      isCurrent: true,
      runCount: 9,
      converged: true,
      seed: 1,
      durationMs: 1,
      summary: { components: { residual: 1e-4 }, repeatability: {} },
    };
    const revision = await prisma.runRevision.findFirstOrThrow({
      where: { runId: last?.runId ?? '' },
      include: { inputs: true },
    });
    const read = readSnapshot(revision.inputs?.snapshot);
    if (!read.ok) throw new Error(read.message);
    const { record } = read.snapshot;
    const { z, u } = await prisma.countedRun.findFirstOrThrow({ where: { runId: revision.runId } });
    const held = () =>
      neighbourhoodOf(registry, {
        runId: revision.runId,
        testerId: ann.accountId,
        world: 'record',
        record,
        own: { z: z ?? 0, u: u ?? 0 },
        hasRecording: false,
        sentAt: registry.now(),
      });
    await prisma.fit.deleteMany({ where: { groupId: group.id } });
    expect(await held()).toMatchObject({ spread: null, spreadOfSetup: null, spreadOfCluster: null });
    const { id } = await prisma.fit.create({ data: fit });
    expect(await held()).toMatchObject({
      spread: { runs: 5, dof: 3 },
      spreadOfSetup: { runs: 7, dof: 4 },
      spreadOfCluster: null,
    });
    const basis = {
      minimumCounts: { runs: 1, sessions: 1, cars: 1 },
      pooledCarLoop: null,
      clusters: [[ally.accountId, ann.accountId].sort()],
      unvouched: [],
    };
    await prisma.fit.update({ where: { id }, data: { basis } });
    expect(await held()).toMatchObject({
      spread: { runs: 5, dof: 3 },
      spreadOfCluster: { runs: 7, dof: 4 },
    });
  });
});

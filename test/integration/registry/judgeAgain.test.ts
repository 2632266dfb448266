import { afterAll, expect, it } from 'vitest';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { judgeAgain } from '@/lib/registry/runs/judgeAgain';
import { readRun } from '@/lib/registry/runs/run';
import { insertActiveProtocolVersion, retireProtocolVersion } from '@/lib/store/protocol';
import { freshDatabase } from '@/test/helpers/database';
import { approved, loopOf, person, registryOn, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

it('runs are judged by what is in force today, and what would fail is told; nothing is taken out', async () => {
  const tester = await person(registry, 'Mira Holm');
  const reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const vehicle = await vehicleOf(registry, tester);
  const loopId = await loopOf(registry, tester);
  const run = await approved(registry, tester, reviewer, {
    carId: vehicle.carId,
    setupId: vehicle.baselineId,
    loopId,
  });
  const counted = await prisma.countedRun.findFirstOrThrow({ where: { runId: run.runId } });
  expect(await judgeAgain(registry, 'record')).toBe(1);
  expect((await readRun(registry, undefined, run.runNumber))?.today).toBeNull();
  const active = await prisma.protocolVersion.findFirstOrThrow({ where: { status: 'active' } });
  await retireProtocolVersion(prisma, active.id, registry.now());
  const { parameters } = NEWEST_VERSION;
  await insertActiveProtocolVersion(prisma, {
    label: 'stricter',
    summary: 'Only loops whose ends are one place.',
    // the loop's ends are 20 m apart
    parameters: {
      ...parameters,
      loopClosure: { ...parameters.loopClosure, distancePassUpToM: 1, distanceCautionUpToM: 2 },
    },
    createdById: reviewer.accountId,
    at: registry.now(),
  });
  expect(await judgeAgain(registry, 'record')).toBe(1);
  const view = await readRun(registry, undefined, run.runNumber);
  expect(view?.today).toMatchObject({ protocolLabel: 'stricter' });
  expect(view?.today?.failing.length).toBeGreaterThan(0);
  expect(view?.status).toBe('approved');
  expect(await prisma.countedRun.findFirstOrThrow({ where: { runId: run.runId } })).toEqual(counted);
  // judged already by both versions: nothing is left to do
  expect(await judgeAgain(registry, 'record')).toBe(0);
});

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { noteBackup } from '@/lib/files/lastBackup';
import { stewardList } from '@/lib/registry/home/stewardList';
import { addModel } from '@/lib/registry/models/addModel';
import { awaitsFirstRun, firstRun, startFirstRun } from '@/lib/registry/runs/firstRun';
import { recordForm } from '@/lib/registry/runs/recordForm';
import { addFactorLevel } from '@/lib/registry/setups/addFactorLevel';
import { addSetup } from '@/lib/registry/setups/addSetup';
import { NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { loopOf, person, registryOn, submitted, vehicleOf } from '@/test/helpers/smallRegistry';

const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);
afterAll(remove);

let tester: Actor;
beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
});

describe('a model', () => {
  it('comes with the setup as it is delivered, which gets the names of what is delivered later', async () => {
    const { modelId } = await addModel(registry, tester, {
      makerName: 'Tarn Works',
      name: 'Gull',
      modelYear: 2025,
      bodyClass: 'pickup',
      kerbMassKg: 2100,
    });
    const setups = () => prisma.setup.findMany({ where: { modelId }, include: { levels: true } });
    const [delivered, ...others] = await setups();
    expect([delivered?.title, delivered?.levels, others]).toEqual(['As delivered', [], []]);
    const { levelId } = await addFactorLevel(registry, tester, {
      modelId,
      factor: 'rideHeight',
      label: 'normal',
    });
    const found = await addSetup(registry, tester, { modelId, levelIds: [levelId] });
    await addSetup(registry, tester, { modelId, levelIds: [levelId] });
    expect(found.setupId).toBe(delivered?.id);
    expect((await setups()).map(({ levels }) => levels.map((level) => level.levelId))).toEqual([[levelId]]);
  });
});

describe('the path to a first run', () => {
  it('is where the tester left it, and ends in a draft of the car as delivered', async () => {
    expect(await firstRun(registry, tester, undefined)).toMatchObject({ cars: [], loop: undefined });
    const vehicle = await vehicleOf(registry, tester);
    expect((await firstRun(registry, tester, undefined)).cars).toHaveLength(1);
    const loopId = await loopOf(registry, tester);
    const later = await loopOf(registry, await person(registry, 'Jonas Reet'), 'South causeway');
    expect((await firstRun(registry, tester, undefined)).loop?.id).toBe(loopId);
    expect((await firstRun(registry, tester, later)).loop?.id).toBe(later);
    expect((await firstRun(registry, tester, 'no id')).loop?.id).toBe(loopId);
    const ask = { creationKey: 'the-first-run', carId: vehicle.carId, loopId };
    const draft = await startFirstRun(registry, tester, ask);
    expect(await startFirstRun(registry, tester, ask)).toEqual(draft);
    const { form } = await recordForm(registry, tester, draft.runId);
    expect(form).toMatchObject({ carId: vehicle.carId, setupId: vehicle.baselineId, loopId });
  });

  it('is of one’s own car on a loop that exists', async () => {
    const other = await person(registry, 'Sten Valk');
    const car = await prisma.car.findFirstOrThrow({ where: { ownerId: tester.accountId } });
    const loop = await prisma.loop.findFirstOrThrow();
    const ask = { creationKey: 'of-another', carId: car.id, loopId: loop.id };
    await expect(startFirstRun(registry, other, ask)).rejects.toThrow(NotFound);
    await expect(startFirstRun(registry, undefined, ask)).rejects.toThrow(NotAllowed);
    const nowhere = '018f0000-0000-7000-8000-00000000ffff';
    await expect(startFirstRun(registry, tester, { ...ask, loopId: nowhere })).rejects.toThrow(NotFound);
  });

  it('is offered until a run is sent', async () => {
    expect(await awaitsFirstRun(registry, tester)).toBe(true);
    const car = await prisma.car.findFirstOrThrow({ where: { ownerId: tester.accountId } });
    const setup = await prisma.setup.findFirstOrThrow({ where: { modelId: car.modelId, levelsKey: '' } });
    const loop = await prisma.loop.findFirstOrThrow({ where: { ownerId: tester.accountId } });
    await submitted(registry, tester, { carId: car.id, setupId: setup.id, loopId: loop.id });
    expect(await awaitsFirstRun(registry, tester)).toBe(false);
  });
});

describe('a steward’s list', () => {
  const dataFolder = mkdtempSync(join(tmpdir(), 'evenloop-list-'));
  afterAll(() => rmSync(dataFolder, { recursive: true, force: true }));
  const mailed = { EVENLOOP_SMTP_URL: 'smtp://mail.example:587', EVENLOOP_MAIL_FROM: 'runs@mail.example' };

  it('says what is still to do, to the steward alone, and goes away when all is done', async () => {
    const steward = await person(registry, 'Vera Lind', 'steward');
    const list = async (environment: Record<string, string> = {}) => {
      const found = await stewardList(registry, steward, { dataFolder, environment });
      return found?.filter(({ isDone }) => !isDone).map(({ task }) => task);
    };
    expect(await list()).toEqual(['reviewers', 'mail', 'backup']);
    const reviewer = await person(registry, 'Ole Brand', 'reviewer');
    expect(await list(mailed)).toEqual(['backup']);
    expect(await stewardList(registry, reviewer, { dataFolder, environment: {} })).toBeUndefined();
    expect(await stewardList(registry, undefined, { dataFolder, environment: {} })).toBeUndefined();
    await noteBackup(dataFolder, registry.now());
    expect(await list(mailed)).toBeUndefined();
  });
});

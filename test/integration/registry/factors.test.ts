import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { removeSharedLevel, renameSharedLevel } from '@/lib/registry/factors/changeSharedLevel';
import { readFactor, readFactors } from '@/lib/registry/factors/factors';
import { mapLevel } from '@/lib/registry/factors/mapLevel';
import { chooseBaselineLevel, nameSharedLevel } from '@/lib/registry/factors/nameSharedLevel';
import { readSharedLevels } from '@/lib/registry/factors/sharedLevels';
import { runJobsNow } from '@/lib/registry/runJobs';
import { Conflict, InvalidInput, NotAllowed, NotFound } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import { freshDatabase } from '@/test/helpers/database';
import { renderedPage, textOfMarkup } from '@/test/helpers/pageText';
import { approved, loopOf, person, registryOn, type Vehicle, vehicleOf } from '@/test/helpers/smallRegistry';
import { stillNavigation } from '@/test/helpers/stillNavigation';

/** Three models with a normal and a low ride height each, driven side by side; a steward maps what means the same. */
const { prisma } = await freshDatabase();
const { registry, remove } = await registryOn(prisma);

vi.mock('@/app/visitor/registry', () => ({ registry: () => registry }));
vi.mock('@/app/visitor/actor', () => ({
  signedIn: async () => undefined,
  requireSignedIn: async () => undefined,
}));
vi.mock('@/app/visitor/displayCookie', () => ({ displayOfCookie: async () => undefined }));
vi.mock('next/navigation', async (original) => stillNavigation(await original()));

const textOf = async (load: Promise<{ default: unknown }>, params: Record<string, string> = {}) =>
  textOfMarkup(await renderedPage(load, params, { class: CLASS.classKey }));

const listText = () => textOf(import('@/app/(public)/factors/page'));
const factorText = (key: string) => textOf(import('@/app/(public)/factors/[key]/page'), { key });

let steward: Actor;
let tester: Actor;
let vehicles: Vehicle[];
let ids: { normal: string; low: string };

const LEVEL = { world: 'record', factor: 'rideHeight' };
const CLASS = { classKey: 'mph-70', world: 'record' };

const levelOf = async ({ modelId }: Vehicle, key: string) =>
  prisma.factorLevel.findUniqueOrThrow({
    where: { modelId_factor_key: { modelId, factor: 'rideHeight', key } },
  });

async function map(vehicle: Vehicle, key: string, to: string | null, actor: Actor | undefined = steward) {
  const level = await levelOf(vehicle, key);
  await mapLevel(registry, actor, {
    levelId: level.id,
    seenId: level.sharedLevelId,
    sharedLevelId: to,
  });
}

beforeAll(async () => {
  steward = await person(registry, 'Sten Ward', 'steward');
  tester = await person(registry, 'Mira Holm');
  const reviewer = await person(registry, 'Ada Quill', 'reviewer');
  const loopId = await loopOf(registry, tester);
  vehicles = [];
  for (const [i, name] of ['Skerry', 'Holm', 'Nore'].entries()) {
    const vehicle = await vehicleOf(registry, tester, name);
    vehicles.push(vehicle);
    for (const [hour, setupId, tripEnergy] of [
      ['08', vehicle.baselineId, '32.9'],
      ['10', vehicle.lowId, '31.9'],
      ['12', vehicle.lowId, '31.8'],
      ['14', vehicle.baselineId, '32.8'],
    ] as const) {
      await approved(registry, tester, reviewer, {
        carId: vehicle.carId,
        setupId,
        loopId,
        startedAtLocal: `2026-05-${14 + i}T${hour}:00`,
        tripEnergy,
        tripEfficiency: (66.8 / Number(tripEnergy)).toFixed(2),
      });
    }
  }
  await runJobsNow(registry);
}, 240_000);
afterAll(remove);

describe('levels that several models share', () => {
  it('are named and mapped by stewards only, in their own world', async () => {
    await expect(nameSharedLevel(registry, undefined, { ...LEVEL, words: 'Low' })).rejects.toThrow(
      NotAllowed,
    );
    await expect(nameSharedLevel(registry, tester, { ...LEVEL, words: 'Low' })).rejects.toThrow(NotAllowed);
    await expect(readSharedLevels(registry, tester, {})).rejects.toThrow(NotAllowed);
    const demoSteward = { ...steward, world: 'demo' as const };
    await expect(nameSharedLevel(registry, demoSteward, { ...LEVEL, words: 'Low' })).rejects.toThrow(
      NotAllowed,
    );
    expect(await prisma.sharedLevel.count()).toBe(0);
  });

  it('are suggested by their names, and nothing is mapped by itself', async () => {
    const view = await readSharedLevels(registry, steward, LEVEL);
    expect(view.toName.sort()).toEqual(['Low', 'Normal']);
    expect(view.rows.every(({ sharedLevelId }) => sharedLevelId === null)).toBe(true);
    expect((await readFactor(registry, 'rideHeight', CLASS))?.effects).toEqual([]);
    expect(await listText()).toMatch(/What does the ride height do\?\s+Testers name these differently/);
  });

  it('are waited for by no answer: until then each model speaks for itself, as its page of comparison does', async () => {
    const text = await factorText('rideHeight');
    expect(text).toContain('Models cannot be put side by side here yet.');
    const singly = (await readFactor(registry, 'rideHeight', CLASS))?.singly ?? [];
    expect(singly.map(({ setup }) => setup.setupId).sort()).toEqual(
      vehicles.map(({ lowId }) => lowId).sort(),
    );
    const fit = await prisma.fit.findFirstOrThrow({ where: { isCurrent: true } });
    for (const { setup, baseline, percent } of singly) {
      const ids = [setup.setupId, baseline.setupId];
      const stored = await prisma.contrast.findFirstOrThrow({
        where: { fitId: fit.id, setupAId: { in: ids }, setupBId: { in: ids } },
      });
      const sign = stored.setupAId === setup.setupId ? 1 : -1;
      expect(percent).toBeCloseTo(100 * Math.expm1(sign * (stored.differenceLog ?? Number.NaN)), 9);
      expect(text).toContain(setup.title);
    }
    expect((await readFactor(registry, 'driveMode', CLASS))?.singly).toEqual([]);
  });

  it('have one name each, the first of them the one that the others are held against', async () => {
    const normal = await nameSharedLevel(registry, steward, { ...LEVEL, words: 'Normal' });
    const low = await nameSharedLevel(registry, steward, { ...LEVEL, words: 'Low' });
    ids = { normal: normal.sharedLevelId, low: low.sharedLevelId };
    await expect(nameSharedLevel(registry, steward, { ...LEVEL, words: ' low ' })).rejects.toThrow(
      InvalidInput,
    );
    await expect(nameSharedLevel(registry, steward, { ...LEVEL, words: '  ' })).rejects.toThrow(InvalidInput);
    const { shared } = await readSharedLevels(registry, steward, LEVEL);
    expect(shared.map(({ words, isBaseline }) => [words, isBaseline])).toEqual([
      ['Normal', true],
      ['Low', false],
    ]);
  });

  it('are one that the others are held against when several are named first at once', async () => {
    const words = ['+0.2 bar', '−0.2 bar', '低い', '高い'];
    const factor = { world: 'record', factor: 'tyrePressure' };
    const sent = await Promise.allSettled(
      words.map((each) => nameSharedLevel(registry, steward, { ...factor, words: each })),
    );
    const refusals = sent.flatMap((each) => (each.status === 'rejected' ? [each.reason] : []));
    expect(refusals.every((reason) => reason instanceof Conflict)).toBe(true);
    for (const [i, each] of words.entries()) {
      if (sent[i]?.status === 'rejected')
        await nameSharedLevel(registry, steward, { ...factor, words: each });
    }
    const { shared } = await readSharedLevels(registry, steward, factor);
    expect(shared.map((level) => level.words).toSorted()).toEqual(words.toSorted());
    expect(shared.filter(({ isBaseline }) => isBaseline)).toHaveLength(1);
  });

  it('take a level of their own factor only, and refuse one that somebody mapped meanwhile', async () => {
    const [first] = vehicles as [Vehicle];
    const level = await levelOf(first, 'low');
    await expect(
      mapLevel(registry, tester, { levelId: level.id, seenId: null, sharedLevelId: ids.low }),
    ).rejects.toThrow(NotAllowed);
    const eco = await nameSharedLevel(registry, steward, {
      world: 'record',
      factor: 'driveMode',
      words: 'Eco',
    });
    await expect(
      mapLevel(registry, steward, { levelId: level.id, seenId: null, sharedLevelId: eco.sharedLevelId }),
    ).rejects.toThrow(Conflict);
    await map(first, 'low', ids.low);
    await expect(
      mapLevel(registry, steward, { levelId: level.id, seenId: null, sharedLevelId: ids.normal }),
    ).rejects.toThrow(Conflict);
    expect((await levelOf(first, 'low')).sharedLevelId).toBe(ids.low);
  });
});

describe('what a factor does across models', () => {
  it('is said model by model until three are mapped, in the numbers of the page of comparison', async () => {
    const [first, second] = vehicles as [Vehicle, Vehicle];
    await map(first, 'normal', ids.normal);
    await map(second, 'normal', ids.normal);
    await map(second, 'low', ids.low);
    await runJobsNow(registry);
    const view = await readFactor(registry, 'rideHeight', CLASS);
    const [effect] = view?.effects ?? [];
    expect(effect).toMatchObject({ level: 'Low', baseline: 'Normal', of: 2, pooled: null });
    for (const model of effect?.models ?? []) {
      const row = await prisma.contrast.findFirstOrThrow({
        where: {
          fit: { isCurrent: true },
          OR: [
            { setupAId: model.setup.setupId, setupBId: model.baseline.setupId },
            { setupAId: model.baseline.setupId, setupBId: model.setup.setupId },
          ],
        },
      });
      const sign = row.setupAId === model.setup.setupId ? 1 : -1;
      expect(model.percent).toBe(100 * Math.expm1(sign * (row.differenceLog ?? Number.NaN)));
      expect(model.word).toBe(row.word);
      expect(model.sideBySide).toEqual({ total: 1, lower: 1 });
    }
    const text = await factorText('rideHeight');
    expect(text).toContain('Two models so far: from three on');
    expect(text).not.toMatch(/(Two|Three) models together/);
  });

  it('is one number from three models on, which only mapped levels enter', async () => {
    const third = vehicles[2] as Vehicle;
    await map(third, 'normal', ids.normal);
    await map(third, 'low', ids.low);
    await runJobsNow(registry);
    const effect = (await readFactor(registry, 'rideHeight', CLASS))?.effects[0];
    expect(effect).toMatchObject({ of: 3, pooled: { models: 3, further: null } });
    // the three did alike: 31.85 against 32.85 at the battery, less what adjusting changes
    expect(effect?.pooled?.percent).toBeLessThan(-2);
    expect(effect?.pooled?.percent).toBeGreaterThan(-4);
    // one tester drove all of it
    expect(effect?.pooled?.word).not.toBe('settled');
    const list = await readFactors(registry, CLASS);
    const ofList = list?.factors.find(({ key }) => key === 'rideHeight')?.effects[0];
    expect(ofList?.pooled?.percent).toBe(effect?.pooled?.percent);
    const text = await factorText('rideHeight');
    expect(text).toMatch(/“Low ride height” (uses|may use) [\d.]+ % less than “Normal ride height”/);
    expect(text).toContain('It rests mainly on one tester');
    expect(text).toMatch(/Over 100 km, for a car that otherwise uses .* kWh\/100 km/);
    expect(await listText()).toMatch(/Low against normal, three models/);
    // nobody drove two speeds
    expect(await factorText('cruiseSpeed')).toContain('Nothing can be answered yet.');
  });

  it('loses a model whose mapping is taken back', async () => {
    const third = vehicles[2] as Vehicle;
    await map(third, 'low', null);
    await runJobsNow(registry);
    const effect = (await readFactor(registry, 'rideHeight', CLASS))?.effects[0];
    expect(effect).toMatchObject({ of: 2, pooled: null });
    await map(third, 'low', ids.low);
    await runJobsNow(registry);
  });

  it('turns round when the others are held against another level', async () => {
    const before = (await readFactor(registry, 'rideHeight', CLASS))?.effects[0]?.pooled?.percent ?? 0;
    const swap = { seenId: ids.normal, sharedLevelId: ids.low };
    await expect(chooseBaselineLevel(registry, tester, swap)).rejects.toThrow(NotAllowed);
    await chooseBaselineLevel(registry, steward, swap);
    await expect(chooseBaselineLevel(registry, steward, swap)).rejects.toThrow(Conflict);
    await runJobsNow(registry);
    const effect = (await readFactor(registry, 'rideHeight', CLASS))?.effects[0];
    expect(effect).toMatchObject({ level: 'Normal', baseline: 'Low' });
    expect((1 + before / 100) * (1 + (effect?.pooled?.percent ?? 0) / 100)).toBeCloseTo(1, 6);
  });

  it('goes by a level’s new name once it is renamed', async () => {
    const rename = { sharedLevelId: ids.low, seenWords: 'Low', words: 'Lowered' };
    await expect(renameSharedLevel(registry, tester, rename)).rejects.toThrow(NotAllowed);
    await expect(renameSharedLevel(registry, steward, { ...rename, words: ' normal' })).rejects.toThrow(
      InvalidInput,
    );
    await renameSharedLevel(registry, steward, rename);
    // it is called something else by now
    await expect(renameSharedLevel(registry, steward, { ...rename, words: 'Lowest' })).rejects.toThrow(
      Conflict,
    );
    await runJobsNow(registry);
    const effect = (await readFactor(registry, 'rideHeight', CLASS))?.effects[0];
    expect(effect).toMatchObject({ level: 'Normal', baseline: 'Lowered', of: 3 });
    // its own key goes with its name: the former one is free again
    await renameSharedLevel(registry, steward, { ...rename, seenWords: 'Lowered', words: 'Low' });
  });

  it('leaves out a level that is removed, and maps to none what was mapped to it', async () => {
    const view = await readSharedLevels(registry, steward, LEVEL);
    const mapped = view.shared.find(({ id }) => id === ids.normal)?._count.levels ?? 0;
    expect(mapped).toBe(3);
    const remove = { sharedLevelId: ids.normal, seenMapped: mapped };
    await expect(removeSharedLevel(registry, tester, remove)).rejects.toThrow(NotAllowed);
    await expect(removeSharedLevel(registry, steward, { ...remove, seenMapped: 2 })).rejects.toThrow(
      Conflict,
    );
    await expect(
      removeSharedLevel(registry, steward, { sharedLevelId: ids.low, seenMapped: mapped }),
    ).rejects.toThrow(/held against/);
    await removeSharedLevel(registry, steward, remove);
    await runJobsNow(registry);
    expect((await readFactor(registry, 'rideHeight', CLASS))?.effects).toEqual([]);
    const levels = await prisma.factorLevel.findMany({ where: { factor: 'rideHeight', key: 'normal' } });
    expect(levels.map(({ sharedLevelId }) => sharedLevelId)).toEqual([null, null, null]);
    // the last of a factor may go as well, though it is the one that others would be held against
    await removeSharedLevel(registry, steward, { sharedLevelId: ids.low, seenMapped: mapped });
    expect((await readSharedLevels(registry, steward, LEVEL)).shared).toEqual([]);
    await expect(
      removeSharedLevel(registry, steward, { sharedLevelId: ids.low, seenMapped: 0 }),
    ).rejects.toThrow(NotFound);
  });

  it('stands in the audit log, every step of it', async () => {
    const entries = await prisma.auditEntry.groupBy({
      by: ['action'],
      where: { action: { startsWith: 'factor.' } },
      _count: true,
    });
    expect(Object.fromEntries(entries.map(({ action, _count }) => [action, _count]))).toEqual({
      'factor.nameLevel': 7,
      'factor.mapLevel': 7,
      'factor.unmapLevel': 1,
      'factor.chooseBaseline': 1,
      'factor.renameLevel': 2,
      'factor.removeLevel': 2,
    });
  });

  it('is being computed where the fit is newer, and no fault where what was stored cannot be read', async () => {
    await prisma.fitFactors.updateMany({ data: { result: { version: 0, effects: 'an earlier shape' } } });
    await prisma.cruiseSpeed.updateMany({ data: { result: [] } });
    for (const view of [
      await readFactor(registry, 'rideHeight', CLASS),
      await readFactors(registry, CLASS),
    ]) {
      expect(view?.isDue).toBe(true);
    }
    expect(await factorText('rideHeight')).toContain('is being computed');
    expect(await listText()).toContain('are being computed');
    await prisma.fitFactors.deleteMany();
    await prisma.cruiseSpeed.deleteMany();
    expect((await readFactor(registry, 'rideHeight', CLASS))?.isDue).toBe(true);
  });
});

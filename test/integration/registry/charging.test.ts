import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { readFigure } from '@/app/figures/publicFigures';
import { addCar } from '@/lib/registry/cars/addCar';
import { addModel } from '@/lib/registry/models/addModel';
import { stateCharging } from '@/lib/registry/models/stateCharging';
import type { Actor } from '@/lib/run/roles';
import { DEMO } from '@/lib/run/world';
import { chargingSheetsOf, readChargingSheet } from '@/lib/store/chargingSheets';
import { freshDatabase } from '@/test/helpers/database';
import { renderedPage, textOfMarkup } from '@/test/helpers/pageText';
import { person, registryOn } from '@/test/helpers/smallRegistry';
import { stillNavigation } from '@/test/helpers/stillNavigation';

const { prisma } = await freshDatabase();
const { registry, clock, remove } = await registryOn(prisma);

let asking: Actor | undefined;
vi.mock('@/app/visitor/registry', () => ({ registry: () => registry }));
vi.mock('@/app/visitor/actor', () => ({
  signedIn: async () => asking,
  requireSignedIn: async () => asking,
}));
vi.mock('@/app/visitor/displayCookie', () => ({ displayOfCookie: async () => undefined }));
vi.mock('next/navigation', async (original) => stillNavigation(await original()));

const modelPage = async (slug: string) =>
  textOfMarkup(await renderedPage(import('@/app/(public)/models/[slug]/page'), { slug }));
const formPage = (slug: string) =>
  renderedPage(import('@/app/(tester)/models/[slug]/charging/page'), { slug });
const figureOf = (slug: string) => readFigure(registry, 'charging', slug, {});

const POINTS = [
  { charge: 0.05, powerW: 140_000 },
  { charge: 0.4, powerW: 150_000 },
  { charge: 0.8, powerW: 70_000 },
];
const SOURCE = 'Maker’s data sheet, page 4';

let adder: Actor;
let keeper: Actor;
let stranger: Actor;
let steward: Actor;
let modelId: string;

const newModel = (name: string, usableCapacityWh?: number) =>
  addModel(registry, adder, {
    makerName: 'Tarn Works',
    name,
    modelYear: 2025,
    bodyClass: 'pickup',
    kerbMassKg: 2900,
    ...(usableCapacityWh === undefined ? {} : { usableCapacityWh }),
  });

beforeAll(async () => {
  adder = await person(registry, 'Mira Holm');
  keeper = await person(registry, 'Jon Reed');
  stranger = await person(registry, 'Ada Quill', 'reviewer');
  steward = await person(registry, 'Sten Ward', 'steward');
  ({ modelId } = await newModel('Skerry', 120_000));
  await addCar(registry, keeper, { modelId, name: 'Grey' });
  asking = undefined;
});
afterAll(remove);

const state = (actor: Actor | undefined, input: object) =>
  stateCharging(registry, actor, { modelId, source: SOURCE, ...input });
const faultsOf = (input: object) =>
  state(adder, input).then(
    () => [],
    (error: { issues: { path: string; what: string; fix: string }[] }) => error.issues,
  );

describe('how a model charges', () => {
  it('is unknown until somebody states it', async () => {
    expect(await readChargingSheet(prisma, modelId)).toBeNull();
    await state(adder, { points: POINTS });
    expect(await readChargingSheet(prisma, modelId)).toEqual({
      points: POINTS,
      peakPowerW: null,
      usableCapacityWh: null,
      source: SOURCE,
      statedAt: clock.now,
      statedBy: { displayName: 'Mira Holm', slug: expect.any(String) },
    });
  });

  it('is stated by whoever added the model, keeps a car of it or is a steward, and by nobody else', async () => {
    await expect(state(stranger, { peakPowerW: 90_000 })).rejects.toThrow(/testers who have a car of it/);
    await expect(state(undefined, { peakPowerW: 90_000 })).rejects.toThrow('Sign in first.');
    const demoted: Actor = { ...keeper, role: 'reader' };
    await expect(state(demoted, { peakPowerW: 90_000 })).rejects.toMatchObject({ name: 'NotAllowed' });
    expect(await chargingSheetsOf(prisma, modelId)).toHaveLength(1);
    for (const [minute, actor] of [keeper, steward].entries()) {
      clock.now = new Date(clock.now.getTime() + 60_000);
      await state(actor, { peakPowerW: 160_000 + minute });
    }
    expect((await chargingSheetsOf(prisma, modelId)).map(({ peakPowerW }) => peakPowerW)).toEqual([
      160_001,
      160_000,
      null,
    ]);
  });

  it('is not stated by an account of the demo world through a demo car of a model of the record', async () => {
    const { accountId } = await person(registry, 'Anouk Demo');
    await prisma.account.update({ where: { id: accountId }, data: { world: 'demo' } });
    const demo: Actor = { accountId, role: 'tester', world: DEMO };
    await addCar({ ...registry, world: DEMO }, demo, { modelId, name: 'Dune' });
    await expect(state(demo, { peakPowerW: 90_000 })).rejects.toMatchObject({ name: 'NotAllowed' });
  });

  it('leaves an entry of the audit log with each statement, and said twice it is one', async () => {
    const entries = () => prisma.auditEntry.findMany({ where: { action: 'model.stateCharging' } });
    expect((await entries()).map(({ actorId, subjectId }) => [actorId, subjectId])).toEqual(
      [adder, keeper, steward].map(({ accountId }) => [accountId, modelId]),
    );
    await Promise.all([1, 2].map(() => state(keeper, { points: POINTS, peakPowerW: 155_000 })));
    const [last, ...before] = (await entries()).toReversed();
    expect(before).toHaveLength(3);
    expect(last?.details).toMatchObject({ points: POINTS, peakPowerW: 155_000, source: SOURCE });
  });

  it('is refused where it says nothing, or what cannot be', async () => {
    const paths = async (input: object) => (await faultsOf(input)).map(({ path }) => path);
    expect(await paths({})).toEqual(['peakPowerW']);
    expect(await paths({ points: POINTS.slice(0, 1) })).toEqual(['points.0.charge']);
    expect(await paths({ points: POINTS.toReversed() })).toEqual(['points.1.charge', 'points.2.charge']);
    expect(await paths({ points: POINTS, peakPowerW: 149_000 })).toEqual(['peakPowerW']);
    expect(await paths({ points: [...POINTS, { charge: 1.01, powerW: 0 }] })).toEqual([
      'points.3.charge',
      'points.3.powerW',
    ]);
    expect(await paths({ peakPowerW: Number.NaN })).toEqual(['peakPowerW']);
    expect(await paths({ peakPowerW: 1e300, source: ' ' })).toEqual(['peakPowerW', 'source']);
    expect(await paths({ peakPowerW: 90_000, usableCapacityWh: 100_000 })).toEqual(['usableCapacityWh']);
    for (const { what, fix } of await faultsOf({ points: POINTS.toReversed(), source: '' })) {
      expect(what.length).toBeGreaterThan(20);
      expect(fix.length).toBeGreaterThan(20);
    }
    await expect(state(adder, { modelId: crypto.randomUUID(), peakPowerW: 90_000 })).rejects.toMatchObject({
      name: 'NotFound',
    });
  });

  it('is what can be read of it: a row that cannot is passed over', async () => {
    const row = await prisma.chargingSheet.findFirstOrThrow({ orderBy: { statedAt: 'desc' } });
    for (const [minute, points] of [[{ at: 0.1 }], [{ charge: 0.5, powerW: 1000 }], [7]].entries()) {
      await prisma.chargingSheet.create({
        data: {
          modelId,
          statedById: keeper.accountId,
          statedAt: new Date(row.statedAt.getTime() + (minute + 1) * 1000),
          points,
          source: 'an odd program',
        },
      });
    }
    expect(await readChargingSheet(prisma, modelId)).toMatchObject({ points: POINTS, source: SOURCE });
    const { modelId: other } = await newModel('Holm');
    await prisma.chargingSheet.create({
      data: { ...row, id: crypto.randomUUID(), modelId: other, points: [{ charge: '0.5' }] },
    });
    expect(await readChargingSheet(prisma, other)).toBeNull();
  });

  it('is never changed nor removed, and holds no statement of nothing', async () => {
    const { id, ...row } = await prisma.chargingSheet.findFirstOrThrow();
    await expect(prisma.chargingSheet.update({ where: { id }, data: { source: 'x' } })).rejects.toThrow(
      /append-only/,
    );
    await expect(prisma.chargingSheet.delete({ where: { id } })).rejects.toThrow(/append-only/);
    const add = (data: object) =>
      prisma.chargingSheet.create({ data: { ...row, points: POINTS, ...data }, select: { id: true } });
    await expect(add({ points: [], peakPowerW: null })).rejects.toThrow(/ChargingSheet_states_something/);
    await expect(add({ peakPowerW: Number.NaN })).rejects.toThrow(/ChargingSheet_values/);
    await expect(add({ source: ' ' })).rejects.toThrow(/ChargingSheet_source/);
  });
});

describe('a usable capacity stated with it', () => {
  it('becomes the model’s where it had none, and can be stated anew', async () => {
    const { modelId: bare } = await newModel('Nore');
    const capacity = async () =>
      (await prisma.vehicleModel.findUniqueOrThrow({ where: { id: bare } })).usableCapacityWh;
    for (const usableCapacityWh of [78_000, 77_500]) {
      await state(adder, { modelId: bare, peakPowerW: 90_000, usableCapacityWh });
      expect(await capacity()).toBe(usableCapacityWh);
    }
    await state(adder, { modelId: bare, peakPowerW: 95_000 });
    expect(await capacity()).toBe(77_500);
    expect(await readChargingSheet(prisma, bare)).toMatchObject({ usableCapacityWh: null });
  });
});

describe('the pages of a model', () => {
  it('say that charging is assumed until it is stated, and then from where it is', async () => {
    const { modelId: fresh, slug } = await newModel('Ness', 60_000);
    expect(await modelPage(slug)).toMatch(
      /Charges from 10 to 80.% in \d+.min \(\d+ to \d+\), .*this is assumed/,
    );
    expect((await figureOf(slug))?.title).toMatch(/by an assumed curve\.$/);
    await state(adder, { modelId: fresh, peakPowerW: 80_000 });
    const peakOnly = await modelPage(slug);
    expect(peakOnly).toMatch(/nobody has stated its curve/);
    expect(peakOnly).toMatch(/Peak 80.kW/);
    clock.now = new Date(clock.now.getTime() + 60_000);
    await state(steward, { modelId: fresh, points: POINTS, source: 'Watched at the quay' });
    const stated = await modelPage(slug);
    expect(stated).not.toMatch(/assumed/);
    expect(stated).toMatch(/Source: Watched at the quay\. Stated by Sten Ward/);
    expect(stated).toMatch(/What was stated before/);
    const figure = await figureOf(slug);
    expect(figure?.title).toMatch(/by the stated curve\.$/);
    expect(figure?.table.rows.map((cells) => cells.slice(0, 2))).toEqual([
      ['5', '140'],
      ['40', '150'],
      ['80', '70'],
    ]);
    for (const [, power, interval] of figure?.table.rows ?? []) {
      const [low, high] = String(interval).split(' to ').map(Number);
      expect(low).toBeLessThan(Number(power));
      expect(high).toBeGreaterThan(Number(power));
    }
  });

  it('stand where nothing is known at all, or nothing can be read', async () => {
    const { modelId: bare, slug } = await newModel('Voe');
    const UNKNOWN = /Nobody has stated how this model charges, and without its usable capacity/;
    expect(await modelPage(slug)).toMatch(UNKNOWN);
    expect(await figureOf(slug)).toBeUndefined();
    await prisma.chargingSheet.create({
      data: {
        modelId: bare,
        statedById: adder.accountId,
        statedAt: clock.now,
        points: [{ odd: true }],
        source: 'x',
      },
    });
    expect(await modelPage(slug)).toMatch(UNKNOWN);
    await state(adder, { modelId: bare, peakPowerW: 80_000 });
    expect(await modelPage(slug)).toMatch(/Only its peak power is stated/);
    await state(adder, { modelId: bare, points: POINTS, source: 'a charge' });
    expect((await figureOf(slug))?.title).toMatch(/up to 150.kW, by the stated curve/);
  });

  it('lead to the form those who may use it, with what is on file', async () => {
    const { slug } = await prisma.vehicleModel.findUniqueOrThrow({ where: { id: modelId } });
    expect(await modelPage(slug)).not.toMatch(/State how it charges/);
    asking = stranger;
    expect(await modelPage(slug)).not.toMatch(/State how it charges/);
    await expect(formPage(slug)).rejects.toThrow(/NOT_FOUND|404/);
    asking = keeper;
    expect(await modelPage(slug)).toMatch(/State how it charges/);
    const form = await formPage(slug);
    expect(form).toMatch(/name="charge2"[^>]*value="40"|value="40"[^>]*name="charge2"/);
    expect(form).toMatch(/usable capacity 120\.0/);
    expect(form).not.toMatch(/name="usableCapacityWh"/);
    asking = undefined;
  });
});

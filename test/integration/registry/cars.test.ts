import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CAR_NUMBERS } from '@/lib/capture/vehicleFields';
import { addCar } from '@/lib/registry/cars/addCar';
import { changeCar } from '@/lib/registry/cars/changeCar';
import { myCar } from '@/lib/registry/cars/myCars';
import { readRun } from '@/lib/registry/runs/run';
import { parseNumbers } from '@/lib/run/numberField';
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

const COAST_DOWN = {
  coastDownF0N: 250,
  coastDownF1NPerKmh: -0.5,
  coastDownF2NPerKmh2: 0.045,
  ownValuesSource: 'Coast-down of 3 May, both directions',
};

let tester: Actor;
let other: Actor;
let vehicle: Vehicle;
let loopId: string;

beforeAll(async () => {
  tester = await person(registry, 'Mira Holm');
  other = await person(registry, 'Jon Reed');
  vehicle = await vehicleOf(registry, tester);
  loopId = await loopOf(registry, tester);
});
afterAll(remove);

const issuesOf = (input: object) =>
  addCar(registry, tester, { modelId: vehicle.modelId, name: 'Grey', ...input }).then(
    () => [],
    (error: { issues: { path: string }[] }) => error.issues.map(({ path }) => path),
  );

function run(day: string) {
  return submitted(
    registry,
    tester,
    {
      carId: vehicle.carId,
      setupId: vehicle.baselineId,
      loopId,
      startedAtLocal: `${day}T09:30`,
      tripEnergy: day === '2026-05-14' ? '32.9' : '32.4',
    },
    false,
  );
}

const vehicleOfRun = async (runId: string) => {
  const row = await prisma.normalisation.findFirstOrThrow({ where: { revision: { runId } } });
  return { vehicle: (row.input as { vehicle: Record<string, unknown> }).vehicle, row };
};

describe('a coast-down of a car', () => {
  it('is whole, has a source and stands in place of drag area and rolling', async () => {
    const { ownValuesSource, ...coefficients } = COAST_DOWN;
    expect(await issuesOf(coefficients)).toEqual(['ownValuesSource']);
    expect(await issuesOf({ coastDownF0N: 250, ownValuesSource })).toEqual([
      'coastDownF1NPerKmh',
      'coastDownF2NPerKmh2',
    ]);
    expect(await issuesOf({ ...COAST_DOWN, dragAreaM2: 1 })).toEqual(['dragAreaM2']);
    expect(await issuesOf({ ...COAST_DOWN, coastDownF2NPerKmh2: 0 })).toEqual(['coastDownF2NPerKmh2']);
    expect(await issuesOf(COAST_DOWN)).toEqual([]);
    const added = await prisma.car.findFirstOrThrow({ where: { name: 'Grey' } });
    expect(added).toMatchObject(COAST_DOWN);
  });

  it('is kept whole by the database as well', async () => {
    const refusal = /Car_coast_down/;
    const set = (data: object) => prisma.car.update({ where: { id: vehicle.carId }, data });
    const { ownValuesSource: _source, ...sourceless } = COAST_DOWN;
    await expect(set({ coastDownF0N: 250, ownValuesSource: 'half' })).rejects.toThrow(refusal);
    await expect(set(sourceless)).rejects.toThrow(refusal);
    await expect(set({ ...COAST_DOWN, dragAreaM2: 1 })).rejects.toThrow(refusal);
    await expect(set({ ...COAST_DOWN, coastDownF2NPerKmh2: Number.NaN })).rejects.toThrow(refusal);
  });
});

describe('a usable capacity that was measured on a car', () => {
  it('has its source, and is nothing by its uncertainty alone', async () => {
    const measured = {
      usableCapacityWh: 116_000,
      usableCapacityUWh: 1500,
      ownValuesSource: 'One full charge',
    };
    const { ownValuesSource, ...sourceless } = measured;
    expect(await issuesOf({ ...sourceless, name: 'Ochre' })).toEqual(['ownValuesSource']);
    expect(await issuesOf({ usableCapacityUWh: 1500, ownValuesSource, name: 'Ochre' })).toEqual([
      'usableCapacityWh',
    ]);
    expect(await issuesOf({ ...measured, usableCapacityUWh: 0, name: 'Ochre' })).toEqual([
      'usableCapacityUWh',
    ]);
    expect(await issuesOf({ ...measured, name: 'Ochre' })).toEqual([]);
    const added = await prisma.car.findFirstOrThrow({ where: { name: 'Ochre' } });
    expect(added).toMatchObject(measured);
    const { facts } = await myCar(registry, tester, added.id);
    expect(facts.find(({ term }) => term === 'Usable capacity')?.description).toMatch(/^116\.0.±.1\.5.kWh$/);
    await expect(
      prisma.car.update({ where: { id: added.id }, data: { usableCapacityWh: null } }),
    ).rejects.toThrow(/Car_measured_capacity/);
  });
});

describe('changing a car', () => {
  it('is its owner’s alone', async () => {
    const input = { carId: vehicle.carId, name: 'Mine now' };
    await expect(changeCar(registry, other, input)).rejects.toMatchObject({ name: 'NotAllowed' });
    await expect(changeCar(registry, undefined, input)).rejects.toMatchObject({ name: 'NotAllowed' });
    await expect(changeCar(registry, tester, { ...input, carId: crypto.randomUUID() })).rejects.toMatchObject(
      {
        name: 'NotFound',
      },
    );
  });

  it('counts for runs sent from then on; those sent before keep their results; the log says what changed', async () => {
    const before = await run('2026-05-14');
    const kept = (await vehicleOfRun(before.runId)).row;
    const car = { carId: vehicle.carId, name: 'Slate', registeredMassKg: 2950, ...COAST_DOWN };
    const { changed } = await changeCar(registry, tester, car);
    expect(changed.toSorted()).toEqual(
      [...Object.keys(COAST_DOWN), 'name', 'placardFrontPa', 'placardRearPa', 'registeredMassKg'].toSorted(),
    );
    expect((await vehicleOfRun((await run('2026-05-15')).runId)).vehicle).toMatchObject({
      // 95 kg of load as the form says
      massKg: 3045,
      coastDown: { f0N: 250, f1NPerKmh: -0.5, f2NPerKmh2: 0.045 },
    });
    expect((await vehicleOfRun(before.runId)).row).toEqual(kept);
    const log = await prisma.auditEntry.findMany({ where: { action: 'car.change' } });
    expect(log).toHaveLength(1);
    expect(log[0]).toMatchObject({ subjectId: vehicle.carId, actorId: tester.accountId });
    expect(log[0]?.details).toMatchObject({
      name: 'changed',
      coastDownF0N: { before: null, after: 250 },
      registeredMassKg: { before: null, after: 2950 },
    });
  });

  it('starts from what is on file: sent back as it stands, the form changes nothing', async () => {
    const { form, facts } = await myCar(registry, tester, vehicle.carId);
    const { values, issues } = parseNumbers(form, CAR_NUMBERS);
    expect(issues).toEqual([]);
    const { name, ownValuesSource } = form;
    const again = { carId: vehicle.carId, name, ownValuesSource, ...values };
    expect(await changeCar(registry, tester, again)).toEqual({ changed: [] });
    expect(await prisma.auditEntry.count({ where: { action: 'car.change' } })).toBe(1);
    expect(facts.find(({ term }) => term === 'Coast-down')).toMatchObject({
      description: expect.stringMatching(/^250.0 N, −0.500 N\/\(km\/h\), 0.04500 N/),
      note: COAST_DOWN.ownValuesSource,
    });
  });

  it('cannot take the name of another car of the same owner', async () => {
    await expect(changeCar(registry, tester, { carId: vehicle.carId, name: 'Grey' })).rejects.toMatchObject({
      issues: [{ path: 'name' }],
    });
  });
});

describe('the energy display of a car', () => {
  it('is held against its other readings by approved runs alone, the same for its tester and for readers', async () => {
    const displayOf = async () => (await myCar(registry, tester, driven.carId)).displayScale;
    const driven = await vehicleOf(registry, tester, 'Fell');
    const form = { carId: driven.carId, setupId: driven.baselineId, loopId, tripEnergy: '32.9' };
    await submitted(registry, tester, { ...form, startedAtLocal: '2026-05-18T09:30' }, false);
    expect(await displayOf()).toBeNull();
    const reviewer = await person(registry, 'Ada Quill', 'reviewer');
    const { runNumber } = await approved(registry, tester, reviewer, {
      ...form,
      startedAtLocal: '2026-05-19T09:30',
      chargerKind: 'dc',
      chargerEnergy: '36.9',
    });
    const scale = await displayOf();
    // by the charger and by the charge; the prior knows 1 %
    expect(scale?.ratios).toBe(2);
    expect(scale?.u).toBeLessThan(0.01);
    expect((await readRun(registry, undefined, runNumber))?.displayScale).toEqual(scale);
    // the other car of the tester has no approved run
    expect((await myCar(registry, tester, vehicle.carId)).displayScale).toBeNull();
  });
});

import type { CarValues } from '@/lib/capture/carValues';
import type { ReconciledEnergy } from '@/lib/physics/reconcile';
import { readEnergy } from '@/lib/reduction/stored';
import { readDisplayUnits } from '@/lib/run/stored';
import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from './database';
import { UNMERGED } from './models';
import { MODEL_NAME } from './names';

/** A calibration as its car's owner and a correction read it. */
export const CALIBRATION = {
  id: true,
  instrument: true,
  factor: true,
  standardUncertainty: true,
  method: true,
  measuredOn: true,
  odometerM: true,
  note: true,
  invalidatedOn: true,
  invalidatedReason: true,
} as const;

/** Cars that a run can be recorded with. */
export const IN_USE = { retiredAt: null, hiddenAt: null, mergedIntoId: null } as const;

/** What an owner states of a car itself, besides its name. */
export const OWN_VALUES = {
  registeredMassKg: true,
  usableCapacityWh: true,
  usableCapacityUWh: true,
  dragAreaM2: true,
  rollingCoefficient: true,
  coastDownF0N: true,
  coastDownF1NPerKmh: true,
  coastDownF2NPerKmh2: true,
  ownValuesSource: true,
  placardFrontPa: true,
  placardRearPa: true,
} as const;

/** The cars that a tester records with, each with the setups of its model and the units of its display. */
export async function carsForForm(db: Queryable, ownerId: string) {
  const cars = await db.car.findMany({
    where: { ownerId, ...IN_USE },
    orderBy: { name: 'asc' },
    select: {
      id: true,
      name: true,
      usableCapacityWh: true,
      placardFrontPa: true,
      placardRearPa: true,
      displayUnits: true,
      model: {
        select: {
          id: true,
          name: true,
          modelYear: true,
          variant: true,
          usableCapacityWh: true,
          maker: { select: { name: true } },
          setups: { where: UNMERGED, orderBy: { title: 'asc' }, select: { id: true, title: true } },
        },
      },
    },
  });
  return cars.map((car) => ({ ...car, displayUnits: readDisplayUnits(car.displayUnits) }));
}

/** So many cars of a few models nobody drives. */
const MOST_CARS = 60;

/** The cars in use that somebody has of these models. */
export function carIdsOfModels(db: Queryable, ownerId: string, modelIds: readonly string[]) {
  return db.car.findMany({
    where: { ownerId, modelId: { in: [...modelIds] }, ...IN_USE },
    orderBy: { name: 'asc' },
    take: MOST_CARS,
    select: { id: true, modelId: true },
  });
}

/** One car of a tester with its calibrations. */
export function carWithCalibrations(db: Queryable, carId: string) {
  return db.car.findUnique({
    where: { id: carId },
    select: {
      id: true,
      hiddenReason: true,
      mergedIntoId: true,
      ownerId: true,
      name: true,
      ...OWN_VALUES,
      world: true,
      _count: { select: { runs: { where: { submittedAt: { not: null } } } } },
      model: {
        select: {
          id: true,
          ...MODEL_NAME,
          kerbMassKg: true,
          usableCapacityWh: true,
        },
      },
      calibrations: {
        orderBy: { measuredOn: 'desc' },
        select: CALIBRATION,
      },
    },
  });
}

/** The energies of a car's newest runs that count under one version, as far as they can be read. */
export async function energiesOfCar(
  db: Queryable,
  carId: string,
  methodVersion: string,
  take: number,
): Promise<ReconciledEnergy[]> {
  const rows = await db.$queryRaw<{ energy: unknown }[]>`
    SELECT result."result"->'energy' AS "energy"
    FROM (
      SELECT "runId", "methodVersion", "number" FROM "CountedRun"
      WHERE "carId" = ${carId}::uuid AND "methodVersion" = ${methodVersion} AND "measuredWhPerKm" IS NOT NULL
      ORDER BY "number" DESC
      LIMIT ${take}
    ) newest
    JOIN "Run" run ON run."id" = newest."runId"
    JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
    JOIN "Normalisation" result
      ON result."revisionId" = revision."id" AND result."methodVersion" = newest."methodVersion"
    ORDER BY newest."number" DESC`;
  return rows.flatMap(({ energy }) => readEnergy(energy) ?? []);
}

export interface NewCar extends CarValues {
  ownerId: string;
  modelId: string;
  world: WorldKey;
  createdAt: Date;
}

export function insertCar(db: Queryable, car: NewCar) {
  return db.car.create({ data: car, select: { id: true } });
}

/** What an owner may change of a car, held until the transaction ends, so that the audit log tells what was there. */
export async function lockedCar(
  tx: Queryable,
  id: string,
): Promise<(CarValues & { ownerId: string; world: string }) | null> {
  await tx.$queryRaw`SELECT "id" FROM "Car" WHERE "id" = ${id}::uuid FOR UPDATE`;
  return tx.car.findUnique({
    where: { id },
    select: {
      ownerId: true,
      world: true,
      name: true,
      ...OWN_VALUES,
    },
  });
}

export async function updateCar(tx: Queryable, id: string, values: Partial<CarValues>): Promise<void> {
  await tx.car.update({ where: { id }, data: values, select: { id: true } });
}

export function carOwner(db: Queryable, id: string) {
  return db.car.findUnique({ where: { id }, select: { ownerId: true, modelId: true, world: true } });
}

/** A tester's cars with what the forms and "my cars" show. */
export function carsOf(db: Queryable, ownerId: string) {
  return db.car.findMany({
    where: { ownerId, retiredAt: null, mergedIntoId: null },
    orderBy: { createdAt: 'asc' },
    select: {
      id: true,
      name: true,
      registeredMassKg: true,
      usableCapacityWh: true,
      placardFrontPa: true,
      placardRearPa: true,
      model: {
        select: {
          id: true,
          ...MODEL_NAME,
          usableCapacityWh: true,
          setups: {
            where: UNMERGED,
            orderBy: { title: 'asc' },
            select: { id: true, title: true, slug: true },
          },
        },
      },
      calibrations: {
        orderBy: { measuredOn: 'desc' },
        select: {
          id: true,
          instrument: true,
          factor: true,
          standardUncertainty: true,
          method: true,
          measuredOn: true,
          invalidatedOn: true,
          invalidatedReason: true,
        },
      },
      _count: { select: { runs: true } },
    },
  });
}

import type { CarValues } from '@/lib/capture/carValues';
import type { WorldKey } from '@/lib/run/world';
import type { BodyClass, Prisma } from '@/prisma/generated/client';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';

export interface NewModel {
  makerId: string;
  slug: string;
  name: string;
  modelYear: number;
  variant: string;
  bodyClass: BodyClass;
  kerbMassKg: number;
  usableCapacityWh: number | null;
  dragAreaM2: number | null;
  dragAreaSource: string | null;
  hasHeatPump: boolean;
  world: WorldKey;
  createdAt: Date;
}

export async function findOrInsertMaker(db: Queryable, name: string, slug: string): Promise<string> {
  const maker = await db.maker.upsert({
    where: { slug },
    create: { name, slug },
    update: {},
    select: { id: true },
  });
  return maker.id;
}

export function modelByIdentity(
  db: Queryable,
  model: { makerId: string; name: string; modelYear: number; variant: string; world: WorldKey },
) {
  const { makerId, name, modelYear, variant, world } = model;
  return db.vehicleModel.findUnique({
    where: { makerId_name_modelYear_variant_world: { makerId, name, modelYear, variant, world } },
    select: { id: true, slug: true },
  });
}

export async function isModelSlugTaken(db: Queryable, slug: string): Promise<boolean> {
  return (await db.vehicleModel.findUnique({ where: { slug }, select: { id: true } })) !== null;
}

export function insertModel(db: Queryable, model: NewModel) {
  return db.vehicleModel.create({ data: model, select: { id: true, slug: true } });
}

export function modelById(db: Queryable, id: string) {
  return db.vehicleModel.findUnique({
    where: { id },
    select: {
      id: true,
      slug: true,
      name: true,
      modelYear: true,
      variant: true,
      world: true,
      maker: { select: { name: true, slug: true } },
      levels: { orderBy: [{ factor: 'asc' }, { label: 'asc' }], select: LEVEL },
    },
  });
}

const LEVEL = { id: true, factor: true, key: true, label: true, tyreKind: true, isBaseline: true } as const;

export function levelByKey(db: Queryable, modelId: string, factor: string, key: string) {
  return db.factorLevel.findUnique({
    where: { modelId_factor_key: { modelId, factor, key } },
    select: { id: true },
  });
}

export async function hasBaselineLevel(db: Queryable, modelId: string, factor: string): Promise<boolean> {
  return (await db.factorLevel.count({ where: { modelId, factor, isBaseline: true } })) > 0;
}

export function insertLevel(
  db: Queryable,
  level: {
    modelId: string;
    factor: string;
    key: string;
    label: string;
    tyreKind: string | null;
    isBaseline: boolean;
  },
) {
  return db.factorLevel.create({ data: level, select: { id: true } });
}

export function levelsByIds(db: Queryable, ids: string[]) {
  return db.factorLevel.findMany({ where: { id: { in: ids } }, select: { ...LEVEL, modelId: true } });
}

export function setupByLevels(db: Queryable, modelId: string, levelsKey: string) {
  return db.setup.findUnique({
    where: { modelId_levelsKey: { modelId, levelsKey } },
    select: { id: true, slug: true },
  });
}

export async function isSetupSlugTaken(db: Queryable, slug: string): Promise<boolean> {
  return (await db.setup.findUnique({ where: { slug }, select: { id: true } })) !== null;
}

export function insertSetup(
  db: Queryable,
  setup: {
    modelId: string;
    slug: string;
    title: string;
    levelsKey: string;
    world: WorldKey;
    createdAt: Date;
    levels: { factor: string; levelId: string }[];
  },
) {
  const { levels, ...data } = setup;
  return db.setup.create({
    data: { ...data, levels: { create: levels } },
    select: { id: true, slug: true },
  });
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
): Promise<(CarValues & { ownerId: string }) | null> {
  await tx.$queryRaw`SELECT "id" FROM "Car" WHERE "id" = ${id}::uuid FOR UPDATE`;
  return tx.car.findUnique({
    where: { id },
    select: {
      ownerId: true,
      name: true,
      registeredMassKg: true,
      usableCapacityWh: true,
      dragAreaM2: true,
      rollingCoefficient: true,
      coastDownF0N: true,
      coastDownF1NPerKmh: true,
      coastDownF2NPerKmh2: true,
      ownValuesSource: true,
      placardFrontPa: true,
      placardRearPa: true,
    },
  });
}

export async function updateCar(tx: Queryable, id: string, values: CarValues): Promise<void> {
  await tx.car.update({ where: { id }, data: values, select: { id: true } });
}

export function carOwner(db: Queryable, id: string) {
  return db.car.findUnique({ where: { id }, select: { ownerId: true, modelId: true } });
}

export function insertCalibration(
  db: Queryable,
  calibration: {
    carId: string;
    instrument: string;
    factor: number;
    standardUncertainty: number;
    method: string;
    measuredOn: Date;
    odometerM: number | null;
    note: string | null;
    createdAt: Date;
  },
) {
  return db.instrumentCalibration.create({ data: calibration, select: { id: true } });
}

export async function invalidateCalibrations(
  db: Queryable,
  where: { carId: string; instruments: string[] },
  invalidatedOn: Date,
  invalidatedReason: string,
): Promise<number> {
  const { count } = await db.instrumentCalibration.updateMany({
    where: { carId: where.carId, instrument: { in: where.instruments }, invalidatedOn: null },
    data: { invalidatedOn, invalidatedReason },
  });
  return count;
}

/** A tester's cars with what the forms and "my cars" show. */
export function carsOf(db: Queryable, ownerId: string) {
  return db.car.findMany({
    where: { ownerId, retiredAt: null },
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
          slug: true,
          name: true,
          modelYear: true,
          variant: true,
          usableCapacityWh: true,
          maker: { select: { name: true } },
          setups: { orderBy: { title: 'asc' }, select: { id: true, title: true, slug: true } },
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

const MODEL_LISTED = {
  id: true,
  slug: true,
  name: true,
  modelYear: true,
  variant: true,
  bodyClass: true,
  world: true,
  maker: { select: { name: true } },
} as const;

/** One model as lists name it. */
export function modelListed(db: Queryable, id: string) {
  return db.vehicleModel.findUnique({ where: { id }, select: MODEL_LISTED });
}

/** Models from a place on by slug, which begins with maker, name and year; with a text those that have it in a name. */
export function listModels(
  db: Queryable,
  text: string | undefined,
  place: Place<string> | undefined,
  take: number,
) {
  return db.vehicleModel.findMany({
    where: { ...modelWhere(text), AND: beyondOne<Prisma.VehicleModelWhereInput>('slug', place, 'asc') },
    orderBy: { slug: readingOrder(place, 'asc') },
    take,
    select: { ...MODEL_LISTED, _count: { select: { setups: true, cars: true } } },
  });
}

export function countModels(db: Queryable, text: string | undefined): Promise<number> {
  return db.vehicleModel.count({ where: modelWhere(text) });
}

function modelWhere(text: string | undefined): Prisma.VehicleModelWhereInput {
  if (!text) return {};
  const contains = { contains: text, mode: 'insensitive' as const };
  return { OR: [{ name: contains }, { maker: { name: contains } }, { variant: contains }] };
}

export function modelBySlug(db: Queryable, slug: string, shown: readonly ShownLabel[]) {
  return db.vehicleModel.findUnique({
    where: { slug },
    select: {
      id: true,
      slug: true,
      name: true,
      modelYear: true,
      variant: true,
      bodyClass: true,
      kerbMassKg: true,
      usableCapacityWh: true,
      dragAreaM2: true,
      dragAreaSource: true,
      hasHeatPump: true,
      world: true,
      maker: { select: { name: true } },
      levels: { orderBy: [{ factor: 'asc' }, { label: 'asc' }], select: LEVEL },
      setups: {
        orderBy: { title: 'asc' },
        select: {
          id: true,
          slug: true,
          title: true,
          levels: { select: { factor: true, level: { select: LEVEL } } },
          _count: { select: { countedRuns: { where: { OR: [...shown] } } } },
        },
      },
    },
  });
}

export function setupBySlug(db: Queryable, slug: string) {
  return db.setup.findUnique({
    where: { slug },
    select: {
      id: true,
      slug: true,
      title: true,
      world: true,
      levels: { orderBy: { factor: 'asc' }, select: { factor: true, level: { select: LEVEL } } },
      model: {
        select: {
          id: true,
          slug: true,
          name: true,
          modelYear: true,
          variant: true,
          bodyClass: true,
          maker: { select: { name: true } },
        },
      },
    },
  });
}

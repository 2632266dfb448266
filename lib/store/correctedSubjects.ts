import type {
  Change,
  ChangedColumns,
  CorrectedKind,
  KeptCalibration,
} from '@/lib/reduction/corrections/change';
import { dateText, midnightUtc } from '@/lib/run/localDate';
import { readBearings } from '@/lib/run/stored';
import type { Prisma } from '@/prisma/generated/client';
import { asJson } from './asJson';
import { CALIBRATION } from './cars';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

/** The rows that corrections change: cars, their calibrations, models, loops. */

export const LOOP_VALUES = {
  region: true,
  description: true,
  turnaround: true,
  lengthM: true,
  lengthUncertaintyM: true,
  lengthSource: true,
  altitudeM: true,
  netClimbM: true,
  grossClimbM: true,
  closureDistanceM: true,
  closureHeightM: true,
  sharedRouteShare: true,
  offCruiseShare: true,
  postedLimitMps: true,
} as const;

/** A change and a submission wait for each other, so that no run is sent in by what is no longer so. */
export async function lockSubject(tx: Queryable, kind: CorrectedKind, id: string): Promise<void> {
  switch (kind) {
    case 'car':
    case 'calibrations':
      await tx.$queryRaw`SELECT "id" FROM "Car" WHERE "id" = ${id}::uuid FOR NO KEY UPDATE`;
      return;
    case 'model':
      await tx.$queryRaw`SELECT "id" FROM "VehicleModel" WHERE "id" = ${id}::uuid FOR NO KEY UPDATE`;
      return;
    case 'loop':
      await tx.$queryRaw`SELECT "id" FROM "Loop" WHERE "id" = ${id}::uuid FOR NO KEY UPDATE`;
      return;
    case 'run':
      await tx.$queryRaw`SELECT "id" FROM "Run" WHERE "id" = ${id}::uuid FOR NO KEY UPDATE`;
  }
}

/** What a submission rests on stays as it is until the transaction ends. */
export async function holdSubjects(
  tx: Queryable,
  ids: { modelId: string; carId: string; loopId: string },
): Promise<void> {
  await tx.$queryRaw`SELECT "id" FROM "VehicleModel" WHERE "id" = ${ids.modelId}::uuid FOR SHARE`;
  await tx.$queryRaw`SELECT "id" FROM "Car" WHERE "id" = ${ids.carId}::uuid FOR SHARE`;
  await tx.$queryRaw`SELECT "id" FROM "Loop" WHERE "id" = ${ids.loopId}::uuid FOR SHARE`;
}

/**
 * Changes the locked thing where it is still as the correction found it; false where it is not, and nothing is written.
 * Of a run nothing else changes than its revisions.
 */
export async function applyChange(
  tx: Queryable,
  subjectId: string,
  change: Change,
  at: Date,
): Promise<boolean> {
  switch (change.kind) {
    case 'run':
      return true;
    case 'car': {
      const { count } = await tx.car.updateMany({
        where: { id: subjectId, ...sideOf(change.columns, 'before') },
        data: sideOf(change.columns, 'after'),
      });
      return count === 1;
    }
    case 'model': {
      const { count } = await tx.vehicleModel.updateMany({
        where: { id: subjectId, ...sideOf(change.columns, 'before') },
        data: sideOf(change.columns, 'after'),
      });
      return count === 1;
    }
    case 'loop':
      return applyToLoop(tx, subjectId, change);
    case 'calibrations':
      for (const { id, before, after } of change.changes) {
        if (!(await applyToCalibration(tx, subjectId, { id, before, after }, at))) return false;
      }
      return true;
  }
}

function sideOf(columns: ChangedColumns, side: 'before' | 'after'): Record<string, never> {
  // The names were checked when it was proposed; an unknown one is refused by the database.
  return Object.fromEntries(Object.entries(columns).map(([name, value]) => [name, value[side]])) as never;
}

export async function directionsOfLoop(db: Queryable, id: string) {
  const loop = await db.loop.findUnique({
    where: { id },
    select: {
      bearings: true,
      legs: {
        orderBy: { direction: 'asc' },
        select: { direction: true, lengthM: true, netClimbM: true, bearings: true },
      },
    },
  });
  return (
    loop && {
      bearings: readBearings(loop.bearings),
      legs: loop.legs.map((leg) => ({ ...leg, bearings: readBearings(leg.bearings) })),
    }
  );
}

async function applyToLoop(
  tx: Queryable,
  id: string,
  { columns, directions }: Extract<Change, { kind: 'loop' }>,
): Promise<boolean> {
  if (directions !== null) {
    const standing = await directionsOfLoop(tx, id);
    if (JSON.stringify(standing) !== JSON.stringify(directions.before)) return false;
  }
  const { count } = await tx.loop.updateMany({
    where: { id, ...sideOf(columns, 'before') },
    data: {
      ...sideOf(columns, 'after'),
      ...(directions === null ? {} : { bearings: asJson([...directions.after.bearings]) }),
    },
  });
  if (count !== 1 || directions === null) return count === 1;
  await tx.loopLeg.deleteMany({ where: { loopId: id } });
  await tx.loopLeg.createMany({
    data: directions.after.legs.map(({ bearings, ...leg }) => ({
      ...leg,
      loopId: id,
      bearings: asJson([...bearings]),
    })),
  });
  return true;
}

/** The calibrations of a car as a correction names them. */
export async function calibrationsOf(
  db: Queryable,
  carId: string,
): Promise<{ id: string; calibration: KeptCalibration }[]> {
  const rows = await db.instrumentCalibration.findMany({
    where: { carId },
    orderBy: [{ measuredOn: 'asc' }, { id: 'asc' }],
    select: CALIBRATION,
  });
  return rows.map(({ id, measuredOn, invalidatedOn, ...row }) => ({
    id,
    calibration: {
      ...row,
      measuredOn: dateText(measuredOn),
      invalidatedOn: invalidatedOn && dateText(invalidatedOn),
    },
  }));
}

async function applyToCalibration(
  tx: Queryable,
  carId: string,
  { id, before, after }: { id: string | null; before: KeptCalibration | null; after: KeptCalibration | null },
  at: Date,
): Promise<boolean> {
  if (id === null || before === null) {
    if (after !== null)
      await tx.instrumentCalibration.create({
        data: { ...columnsOf(after), carId, createdAt: at },
        select: { id: true },
      });
    return true;
  }
  const where = { id, carId, ...columnsOf(before) };
  const { count } =
    after === null
      ? await tx.instrumentCalibration.deleteMany({ where })
      : await tx.instrumentCalibration.updateMany({ where, data: columnsOf(after) });
  return count === 1;
}

function columnsOf({ measuredOn, invalidatedOn, ...calibration }: KeptCalibration) {
  return {
    ...calibration,
    measuredOn: midnightUtc(measuredOn),
    invalidatedOn: invalidatedOn === null ? null : midnightUtc(invalidatedOn),
  } satisfies Prisma.InstrumentCalibrationUncheckedUpdateManyInput;
}

/** What a person changes of a loop: whose it is, and its values. */
export function loopToCorrect(db: Queryable, slug: string) {
  return db.loop.findUnique({
    where: { slug, mergedIntoId: null },
    select: { id: true, slug: true, name: true, world: true, ownerId: true, ...LOOP_VALUES },
  });
}

/** Of a model its data sheet; its name and year are another thing. */
export function modelToCorrect(db: Queryable, slug: string) {
  return db.vehicleModel.findUnique({
    where: { slug },
    select: {
      id: true,
      ...MODEL_NAME,
      world: true,
      bodyClass: true,
      kerbMassKg: true,
      usableCapacityWh: true,
      dragAreaM2: true,
      dragAreaSource: true,
      hasHeatPump: true,
    },
  });
}

/** What a correction's thing is called, by its kind. */
export async function subjectWordsOf(db: Queryable, kind: CorrectedKind, id: string) {
  switch (kind) {
    case 'car':
    case 'calibrations': {
      const car = await db.car.findUnique({
        where: { id },
        select: {
          name: true,
          model: {
            select: {
              slug: true,
              name: true,
              modelYear: true,
              variant: true,
              maker: { select: { name: true } },
            },
          },
        },
      });
      return car && { kind: 'car' as const, ...car };
    }
    case 'model': {
      const model = await db.vehicleModel.findUnique({
        where: { id },
        select: { slug: true, name: true, modelYear: true, variant: true, maker: { select: { name: true } } },
      });
      return model && { kind: 'model' as const, model };
    }
    case 'loop': {
      const loop = await db.loop.findUnique({ where: { id }, select: { slug: true, name: true } });
      return loop && { kind: 'loop' as const, loop };
    }
    case 'run': {
      const run = await db.run.findUnique({ where: { id }, select: { number: true } });
      return run && { kind: 'run' as const, run };
    }
  }
}

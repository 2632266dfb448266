import type { TaperPoint } from '@/lib/physics/estimate/taper';
import { readChargingPoints } from '@/lib/physics/stored';
import type { Prisma } from '@/prisma/generated/client';
import { IN_USE } from './cars';
import type { Queryable } from './database';
import { MODEL_NAME, PERSON } from './names';

/** How a model charges, as somebody stated it. */
export interface ChargingSheet {
  /** By rising state of charge; none where a peak alone is stated. */
  readonly points: readonly TaperPoint[];
  readonly peakPowerW: number | null;
  /** Where the model had none before. */
  readonly usableCapacityWh: number | null;
  readonly source: string;
  readonly statedAt: Date;
  readonly statedBy: { readonly displayName: string; readonly slug: string };
}

/** Statements of one model are few; past so many that cannot be read, the model has none. */
const MOST_SHEETS = 20;

const SHEET = {
  points: true,
  peakPowerW: true,
  usableCapacityWh: true,
  source: true,
  statedAt: true,
  statedBy: { select: PERSON },
} as const satisfies Prisma.ChargingSheetSelect;

/** The statements of a model that can be read, the newest first. */
export async function chargingSheetsOf(db: Queryable, modelId: string): Promise<ChargingSheet[]> {
  const rows = await db.chargingSheet.findMany({
    where: { modelId },
    orderBy: [{ statedAt: 'desc' }, { id: 'desc' }],
    take: MOST_SHEETS,
    select: SHEET,
  });
  return rows.flatMap((row) => {
    const points = readChargingPoints(row.points);
    return points === undefined ? [] : [{ ...row, points }];
  });
}

/** The one that counts: the newest that can be read; null where nobody stated one. */
export async function readChargingSheet(db: Queryable, modelId: string): Promise<ChargingSheet | null> {
  const [newest] = await chargingSheetsOf(db, modelId);
  return newest ?? null;
}

const MODEL = { id: true, ...MODEL_NAME, world: true, usableCapacityWh: true, createdAt: true } as const;

/** A model by its address, with what its form of charging starts from. */
export function modelForCharging(db: Queryable, slug: string) {
  return db.vehicleModel.findUnique({ where: { slug }, select: MODEL });
}

/** The same, held until the transaction ends, so that two statements come one after the other. */
export async function lockedModelForCharging(tx: Queryable, id: string) {
  await tx.$queryRaw`SELECT "id" FROM "VehicleModel" WHERE "id" = ${id}::uuid FOR NO KEY UPDATE`;
  return tx.vehicleModel.findUnique({ where: { id }, select: MODEL });
}

/** Whether an account added the model, or keeps a car of it in the model's own world. */
export async function isModelOf(
  db: Queryable,
  model: { id: string; world: string },
  accountId: string,
): Promise<boolean> {
  const [car, addition] = await Promise.all([
    db.car.findFirst({
      where: { modelId: model.id, ownerId: accountId, world: model.world, ...IN_USE },
      select: { id: true },
    }),
    db.auditEntry.findFirst({
      where: { subjectKind: 'model', subjectId: model.id, action: 'model.add', actorId: accountId },
      select: { id: true },
    }),
  ]);
  return car !== null || addition !== null;
}

/** Whether the model's capacity came with a statement, and can be stated anew with another one. */
export async function isCapacityStated(
  db: Queryable,
  modelId: string,
  usableCapacityWh: number,
): Promise<boolean> {
  const found = await db.chargingSheet.findFirst({
    where: { modelId, usableCapacityWh },
    select: { id: true },
  });
  return found !== null;
}

export async function insertChargingSheet(
  tx: Queryable,
  sheet: Omit<ChargingSheet, 'statedBy'> & { modelId: string; statedById: string },
): Promise<void> {
  const points = sheet.points.map(({ charge, powerW }) => ({ charge, powerW }));
  await tx.chargingSheet.create({ data: { ...sheet, points }, select: { id: true } });
}

/** Gives a model another capacity; false where it has become another one than was seen. */
export async function moveModelCapacity(
  tx: Queryable,
  modelId: string,
  seenWh: number | null,
  usableCapacityWh: number,
): Promise<boolean> {
  const { count } = await tx.vehicleModel.updateMany({
    where: { id: modelId, usableCapacityWh: seenWh },
    data: { usableCapacityWh },
  });
  return count === 1;
}

import { OWN_VALUES } from './cars';
import type { Queryable } from './database';
import { moveSessions, moveTyped } from './merging';
import { MODEL_NAME } from './names';

/** Two entries of one vehicle, and what moves from one to the other. */

export function carToMerge(db: Queryable, id: string) {
  return db.car.findUnique({
    where: { id, mergedIntoId: null },
    select: {
      id: true,
      name: true,
      ownerId: true,
      modelId: true,
      world: true,
      hiddenAt: true,
      hiddenReason: true,
      ...OWN_VALUES,
      owner: { select: { displayName: true, slug: true } },
      model: { select: MODEL_NAME },
    },
  });
}

export type CarToMerge = NonNullable<Awaited<ReturnType<typeof carToMerge>>>;

/** The car that a run was driven with, by the run's number. */
export async function carOfRun(db: Queryable, number: number): Promise<string | undefined> {
  const run = await db.run.findUnique({ where: { number }, select: { carId: true } });
  return run?.carId ?? undefined;
}

/** Another car of the same owner and model, at most so many. */
export function carsBeside(
  db: Queryable,
  car: { id: string; ownerId: string; modelId: string },
  take: number,
) {
  return db.car.findMany({
    where: { ownerId: car.ownerId, modelId: car.modelId, id: { not: car.id }, mergedIntoId: null },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
    take,
    select: { id: true, name: true, _count: { select: { runs: { where: { submittedAt: { not: null } } } } } },
  });
}

/** Runs of a car that were ever sent in, and those that are still to be decided on or to be sent. */
export async function runsOfCar(db: Queryable, carId: string): Promise<{ sent: number; open: number }> {
  const [sent, open] = await Promise.all([
    db.run.count({ where: { carId, submittedAt: { not: null } } }),
    db.run.count({
      where: {
        OR: [
          { carId, status: { in: ['submitted', 'changesAsked'] } },
          { status: 'draft', draft: { path: ['carId'], equals: carId } },
        ],
      },
    }),
  ]);
  return { sent, open };
}

/** Calibrations are of the vehicle; another owner's stay with who made them. */
export async function moveToCar(
  tx: Queryable,
  { fromId, toId, isOneOwner }: { fromId: string; toId: string; isOneOwner: boolean },
): Promise<void> {
  await moveSessions(tx, 'car', fromId, toId);
  await tx.run.updateMany({ where: { carId: fromId }, data: { carId: toId } });
  if (!isOneOwner) return;
  await moveTyped(tx, 'carId', fromId, toId);
  await tx.instrumentCalibration.updateMany({ where: { carId: fromId }, data: { carId: toId } });
}

/** False where it was merged a moment ago. */
export async function markCarMerged(tx: Queryable, fromId: string, toId: string): Promise<boolean> {
  const { count } = await tx.car.updateMany({
    where: { id: fromId, mergedIntoId: null },
    data: { mergedIntoId: toId },
  });
  await tx.car.updateMany({ where: { mergedIntoId: fromId }, data: { mergedIntoId: toId } });
  return count === 1;
}

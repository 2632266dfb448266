import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from './database';
import { LEVEL, UNMERGED } from './models';
import { DATA_SHEET, MODEL_NAME } from './names';

/** What a plan is made from: car, loop, setups and what the class's fit says of them. */

/** A car with its model. */
export function carToPlan(db: Queryable, id: string) {
  return db.car.findUnique({
    where: { id },
    select: {
      id: true,
      name: true,
      ownerId: true,
      world: true,
      retiredAt: true,
      hiddenAt: true,
      mergedIntoId: true,
      usableCapacityWh: true,
      usableCapacityUWh: true,
      model: { select: { id: true, world: true } },
    },
  });
}

export function modelToPlan(db: Queryable, id: string) {
  return db.vehicleModel.findUnique({
    where: { id },
    select: {
      id: true,
      ...MODEL_NAME,
      ...DATA_SHEET,
      world: true,
      hiddenAt: true,
      levels: {
        where: UNMERGED,
        orderBy: [{ factor: 'asc' }, { label: 'asc' }],
        select: { ...LEVEL, hiddenAt: true },
      },
    },
  });
}

export function loopToPlan(db: Queryable, id: string) {
  return db.loop.findUnique({
    where: { id },
    select: { id: true, slug: true, name: true, world: true, lengthM: true, postedLimitMps: true },
  });
}

const SETUP = {
  id: true,
  slug: true,
  title: true,
  world: true,
  levels: { select: { factor: true, level: { select: LEVEL } } },
} as const;

/** Setups of a model to choose from: those named first, then by title. */
export async function setupsToPlan(db: Queryable, modelId: string, ids: readonly string[], take: number) {
  const [named, others] = await Promise.all([
    db.setup.findMany({ where: { modelId, id: { in: [...ids] }, ...UNMERGED }, take, select: SETUP }),
    db.setup.findMany({
      where: { modelId, id: { notIn: [...ids] }, ...UNMERGED },
      orderBy: [{ title: 'asc' }, { id: 'asc' }],
      take,
      select: SETUP,
    }),
  ]);
  const inOrder = ids.flatMap((id) => named.filter((setup) => setup.id === id));
  return [...inOrder, ...others].slice(0, Math.max(take, ids.length));
}

/** Of setups in a class, what the current fit says that they draw. */
export async function consumptionsOf(
  db: Queryable,
  of: { world: WorldKey; cruiseClassKey: string },
  setupIds: readonly string[],
): Promise<Map<string, number>> {
  const rows = await db.estimate.findMany({
    where: { setupId: { in: [...setupIds] }, fit: { isCurrent: true, group: of } },
    select: { setupId: true, estimateWhPerKm: true },
  });
  return new Map(rows.map(({ setupId, estimateWhPerKm }) => [setupId, estimateWhPerKm]));
}

/** Titles and addresses of setups that a plan names. */
export function setupsNamed(db: Queryable, ids: readonly string[]) {
  return db.setup.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, slug: true, title: true },
  });
}

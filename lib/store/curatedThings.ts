import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';
import { DATA_SHEET, MODEL_NAME } from './names';

/** What stewards rename and hide: loops, models and the levels of models. */

const HIDING = { hiddenAt: true, hiddenReason: true } as const;

export function loopToCurate(db: Queryable, slug: string) {
  return db.loop.findUnique({
    where: { slug, mergedIntoId: null },
    select: { id: true, slug: true, name: true, region: true, world: true, ...HIDING },
  });
}

export function modelToCurate(db: Queryable, slug: string) {
  return db.vehicleModel.findUnique({
    where: { slug, mergedIntoId: null },
    select: {
      id: true,
      ...MODEL_NAME,
      world: true,
      makerId: true,
      bodyClass: DATA_SHEET.bodyClass,
      ...HIDING,
      levels: {
        where: { mergedIntoId: null },
        orderBy: [{ factor: 'asc' }, { label: 'asc' }],
        select: { id: true, factor: true, label: true, isBaseline: true, ...HIDING },
      },
    },
  });
}

export function levelToCurate(db: Queryable, id: string) {
  return db.factorLevel.findUnique({
    where: { id, mergedIntoId: null },
    select: {
      id: true,
      modelId: true,
      factor: true,
      label: true,
      isBaseline: true,
      ...HIDING,
      model: { select: { world: true, slug: true } },
    },
  });
}

/** False where it is not called what was seen. Fails by a constraint where its owner has another of that name. */
export async function renameCarRow(tx: Queryable, id: string, from: string, to: string): Promise<boolean> {
  const { count } = await tx.car.updateMany({
    where: { id, name: from, mergedIntoId: null },
    data: { name: to },
  });
  return count === 1;
}

interface Called {
  name: string;
  slug: string;
}

/** False where it is not called what was seen. */
export async function renameLoopRow(tx: Queryable, id: string, from: Called, to: Called): Promise<boolean> {
  const { count } = await tx.loop.updateMany({ where: { id, ...from, mergedIntoId: null }, data: to });
  return count === 1;
}

export async function renameModelRow(
  tx: Queryable,
  id: string,
  from: Called & { variant: string },
  to: Called & { variant: string },
): Promise<boolean> {
  const { count } = await tx.vehicleModel.updateMany({ where: { id, ...from }, data: to });
  return count === 1;
}

export async function renameLevelRow(tx: Queryable, id: string, from: string, to: string): Promise<boolean> {
  const { count } = await tx.factorLevel.updateMany({ where: { id, label: from }, data: { label: to } });
  return count === 1;
}

/** Setups of a model by a level of theirs, with all that their titles are made of. */
export function setupsWithLevel(tx: Queryable, levelId: string) {
  return tx.setup.findMany({
    where: { levels: { some: { levelId } } },
    select: {
      id: true,
      levels: { select: { level: { select: { factor: true, label: true, isBaseline: true } } } },
    },
  });
}

export async function retitleSetup(tx: Queryable, id: string, title: string): Promise<void> {
  await tx.setup.update({ where: { id }, data: { title }, select: { id: true } });
}

export type HideableKind = 'loop' | 'model' | 'level' | 'car';

/** Hides it with a reason, or shows it again; false where it is so already. */
export async function setHidden(
  tx: Queryable,
  kind: HideableKind,
  id: string,
  hidden: { hiddenAt: Date; hiddenReason: string } | null,
): Promise<boolean> {
  const where = { id, hiddenAt: hidden === null ? { not: null } : null };
  const data = hidden ?? { hiddenAt: null, hiddenReason: null };
  const { count } =
    kind === 'loop'
      ? await tx.loop.updateMany({ where: where satisfies Prisma.LoopWhereInput, data })
      : kind === 'model'
        ? await tx.vehicleModel.updateMany({ where, data })
        : kind === 'level'
          ? await tx.factorLevel.updateMany({ where, data })
          : await tx.car.updateMany({ where, data });
  return count === 1;
}

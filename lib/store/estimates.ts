import type { WorldKey } from '@/lib/run/world';
import type { Prisma } from '@/prisma/generated/client';
import { containing } from './containing';
import type { Queryable } from './database';
import { DATA_SHEET, MODEL_NAME } from './names';

const ITS_ESTIMATES = {
  where: { fit: { isCurrent: true } },
  select: {
    runs: true,
    cars: true,
    testers: true,
    loops: true,
    days: true,
    logMean: true,
    dof: true,
    intervalKind: true,
    estimateWhPerKm: true,
    fit: {
      select: {
        id: true,
        fittedAt: true,
        converged: true,
        group: {
          select: { world: true, cruiseClass: { select: { key: true, label: true, speedMps: true } } },
        },
      },
    },
  },
} as const satisfies Prisma.EstimateFindManyArgs;

/** A setup with its model's data sheet and what the current fits say of it: what an estimate is made from. */
export function setupToEstimate(db: Queryable, slug: string) {
  return db.setup.findUnique({
    where: { slug },
    select: {
      id: true,
      slug: true,
      title: true,
      world: true,
      mergedIntoId: true,
      levels: {
        select: { factor: true, level: { select: { id: true, isBaseline: true, tyreKind: true } } },
      },
      model: {
        select: {
          id: true,
          ...MODEL_NAME,
          ...DATA_SHEET,
          levels: { where: { factor: 'wheelTyre', isBaseline: true }, select: { tyreKind: true } },
        },
      },
      estimates: ITS_ESTIMATES,
    },
  });
}

export type SetupToEstimate = NonNullable<Awaited<ReturnType<typeof setupToEstimate>>>;

/** Setups of a world that a current fit holds, by model and title; with a text those that have it in a name. */
export async function setupsEstimated(
  db: Queryable,
  world: WorldKey,
  { text, modelId }: { text?: string | undefined; modelId?: string | undefined },
  take: number,
) {
  const contains = containing(text ?? '');
  const where: Prisma.SetupWhereInput = {
    world,
    estimates: { some: { fit: { isCurrent: true } } },
    ...(modelId === undefined ? {} : { modelId }),
    ...(text === undefined
      ? {}
      : {
          OR: [{ title: contains }, { model: { name: contains } }, { model: { maker: { name: contains } } }],
        }),
  };
  const rows = await db.setup.findMany({
    where,
    orderBy: [{ model: { slug: 'asc' } }, { title: 'asc' }, { id: 'asc' }],
    take,
    select: { slug: true, title: true, model: { select: { id: true, ...MODEL_NAME } } },
  });
  return { rows, total: rows.length < take ? rows.length : await db.setup.count({ where }) };
}

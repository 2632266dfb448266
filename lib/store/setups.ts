import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from './database';
import { LEVEL, UNMERGED } from './models';
import { MODEL_NAME } from './names';

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

/** Says a level of each of these factors of a setup that says none of it yet. */
export async function nameLevels(
  db: Queryable,
  setupId: string,
  levels: readonly { factor: string; levelId: string }[],
): Promise<void> {
  await db.setupLevel.createMany({
    data: levels.map((level) => ({ setupId, ...level })),
    skipDuplicates: true,
  });
}

export function setupBySlug(db: Queryable, slug: string) {
  return db.setup.findUnique({
    where: { slug, ...UNMERGED },
    select: {
      id: true,
      slug: true,
      title: true,
      world: true,
      levels: { orderBy: { factor: 'asc' }, select: { factor: true, level: { select: LEVEL } } },
      model: {
        select: {
          id: true,
          ...MODEL_NAME,
          bodyClass: true,
        },
      },
    },
  });
}

import type { WorldKey } from '@/lib/run/world';
import type { BodyClass, Prisma } from '@/prisma/generated/client';
import { containing } from './containing';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { beyondOne, type Place, readingOrder } from './keyset';
import { DATA_SHEET, MODEL_NAME } from './names';
import { onceCalled, wasAddressOfAnother } from './pastAddresses';

/** Things that had a text in an earlier name, in a search. */
const MOST_ONCE_CALLED = 100;

/** What is a thing of its own: what was merged into another leads there. */
export const UNMERGED = { mergedIntoId: null } as const;

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
  const known = await db.maker.findUnique({ where: { name }, select: { id: true } });
  if (known !== null) return known.id;
  const maker = await db.maker.upsert({
    where: { slug },
    create: { name, slug },
    update: {},
    select: { id: true },
  });
  return maker.id;
}

/** The model of this name, or the one that it was merged into. */
export async function modelByIdentity(
  db: Queryable,
  model: { makerId: string; name: string; modelYear: number; variant: string; world: WorldKey },
): Promise<{ id: string; slug: string } | null> {
  const { makerId, name, modelYear, variant, world } = model;
  const found = await db.vehicleModel.findUnique({
    where: { makerId_name_modelYear_variant_world: { makerId, name, modelYear, variant, world } },
    select: { id: true, slug: true, mergedInto: { select: { id: true, slug: true } } },
  });
  return found && (found.mergedInto ?? { id: found.id, slug: found.slug });
}

/** Whether another model has the address, or had it. */
export async function isModelSlugTaken(db: Queryable, slug: string, exceptId?: string): Promise<boolean> {
  const found = await db.vehicleModel.findUnique({ where: { slug }, select: { id: true } });
  if (found !== null && found.id !== exceptId) return true;
  return wasAddressOfAnother(db, 'model', slug, exceptId);
}

export function insertModel(db: Queryable, model: NewModel) {
  return db.vehicleModel.create({ data: model, select: { id: true, slug: true } });
}

export function modelById(db: Queryable, id: string) {
  return db.vehicleModel.findUnique({
    where: { id, ...UNMERGED },
    select: {
      id: true,
      slug: true,
      name: true,
      modelYear: true,
      variant: true,
      world: true,
      maker: { select: { name: true, slug: true } },
      levels: {
        orderBy: [{ factor: 'asc' }, { label: 'asc' }],
        select: { ...LEVEL, hiddenAt: true },
      },
    },
  });
}

export const LEVEL = {
  id: true,
  factor: true,
  key: true,
  label: true,
  tyreKind: true,
  isBaseline: true,
} as const;

/** The levels of a model's factor that have this key or this label: keys were made otherwise once. */
export async function levelsNamed(
  db: Queryable,
  { modelId, factor, key, label }: { modelId: string; factor: string; key: string; label: string },
) {
  const rows = await db.factorLevel.findMany({
    where: { modelId, factor, OR: [{ key }, { label }] },
    orderBy: { id: 'asc' },
    take: 2,
    select: { id: true, key: true, label: true, mergedIntoId: true },
  });
  return rows.map(({ mergedIntoId, ...level }) => ({ ...level, id: mergedIntoId ?? level.id }));
}

/** What levels of models are called today: by "model factor key". */
export async function levelLabels(db: Queryable, modelIds: readonly string[]): Promise<Map<string, string>> {
  const rows = await db.factorLevel.findMany({
    where: { modelId: { in: [...new Set(modelIds)] } },
    select: {
      modelId: true,
      factor: true,
      key: true,
      label: true,
      mergedInto: { select: { label: true } },
    },
  });
  return new Map(
    rows.map(({ modelId, factor, key, label, mergedInto }) => [
      `${modelId} ${factor} ${key}`,
      mergedInto?.label ?? label,
    ]),
  );
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

/** Levels by id; of one that was merged, the one that it was merged into. */
export function levelsByIds(db: Queryable, ids: string[]) {
  return db.factorLevel.findMany({
    where: { OR: [{ id: { in: ids } }, { merged: { some: { id: { in: ids } } } }], mergedIntoId: null },
    select: { ...LEVEL, modelId: true },
  });
}

const MODEL_LISTED = {
  id: true,
  ...MODEL_NAME,
  bodyClass: true,
  world: true,
} as const;

/** One model as lists name it. */
export function modelListed(db: Queryable, id: string) {
  return db.vehicleModel.findUnique({ where: { id }, select: MODEL_LISTED });
}

/** Models from a place on by slug, which begins with maker, name and year; with a text those that have it in a name. */
export async function listModels(
  db: Queryable,
  text: string | undefined,
  place: Place<string> | undefined,
  take: number,
) {
  const once = await onceCalled(db, 'model', text, MOST_ONCE_CALLED);
  return db.vehicleModel.findMany({
    where: { ...modelWhere(text, once), AND: beyondOne<Prisma.VehicleModelWhereInput>('slug', place, 'asc') },
    orderBy: { slug: readingOrder(place, 'asc') },
    take,
    select: {
      ...MODEL_LISTED,
      _count: { select: { setups: { where: UNMERGED }, cars: { where: UNMERGED } } },
    },
  });
}

export async function countModels(db: Queryable, text: string | undefined): Promise<number> {
  const once = await onceCalled(db, 'model', text, MOST_ONCE_CALLED);
  return db.vehicleModel.count({ where: modelWhere(text, once) });
}

/** Hidden ones are in no list. */
function modelWhere(text: string | undefined, once: string[]): Prisma.VehicleModelWhereInput {
  if (!text) return { hiddenAt: null };
  const contains = containing(text);
  return {
    hiddenAt: null,
    OR: [{ name: contains }, { maker: { name: contains } }, { variant: contains }, { id: { in: once } }],
  };
}

export function modelBySlug(db: Queryable, slug: string, shown: readonly ShownLabel[]) {
  return db.vehicleModel.findUnique({
    where: { slug, ...UNMERGED },
    select: {
      id: true,
      ...MODEL_NAME,
      ...DATA_SHEET,
      hiddenReason: true,
      world: true,
      levels: { where: UNMERGED, orderBy: [{ factor: 'asc' }, { label: 'asc' }], select: LEVEL },
      setups: {
        where: UNMERGED,
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

import { readBearings, readElevation, readOutline } from '@/lib/run/stored';
import type { Prisma } from '@/prisma/generated/client';
import { containing } from './containing';
import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { beyond, type Place, readingOrder } from './keyset';
import { onceCalled, wasAddressOfAnother } from './pastAddresses';

/** Things that had a text in an earlier name, in a search. */
const MOST_ONCE_CALLED = 100;

/** Whether another loop has the address, or had it. */
export async function isLoopSlugTaken(db: Queryable, slug: string, exceptId?: string): Promise<boolean> {
  const found = await db.loop.findUnique({ where: { slug }, select: { id: true } });
  if (found !== null && found.id !== exceptId) return true;
  return wasAddressOfAnother(db, 'loop', slug, exceptId);
}

export function insertLoop(db: Queryable, loop: Prisma.LoopUncheckedCreateInput) {
  return db.loop.create({ data: loop, select: { id: true, slug: true } });
}

/** Neither hidden nor another one by now. */
export const LISTED = { hiddenAt: null, mergedIntoId: null } as const;

const LOOP_LISTED = {
  id: true,
  slug: true,
  name: true,
  region: true,
  turnaround: true,
  lengthM: true,
  lengthUncertaintyM: true,
  altitudeM: true,
  postedLimitMps: true,
  offCruiseShare: true,
  world: true,
} as const;

/**
 * So many loops for one who chooses: those with the ids first, then their own, then any, by name each. One more than
 * is wanted tells that there are others.
 */
export async function loopsForForm(
  db: Queryable,
  { ids, keptId, ownerId }: { ids: readonly string[]; keptId: string | undefined; ownerId: string },
  wanted: number,
) {
  // The one that is chosen already stays a choice, hidden or not.
  const groups: Prisma.LoopWhereInput[] = [
    ...(keptId === undefined ? [] : [{ id: keptId, mergedIntoId: null }]),
    { id: { in: [...ids] }, ...LISTED },
    { ownerId, ...LISTED },
    LISTED,
  ];
  const found: Awaited<ReturnType<typeof loopsWhere>> = [];
  for (const group of groups) {
    const take = wanted + 1 - found.length;
    if (take > 0) found.push(...(await loopsWhere(db, group, found, take)));
  }
  return { loops: found.slice(0, wanted), hasMore: found.length > wanted };
}

function loopsWhere(
  db: Queryable,
  group: Prisma.LoopWhereInput,
  except: readonly { id: string }[],
  take: number,
) {
  return db.loop.findMany({
    where: { ...group, NOT: { id: { in: except.map(({ id }) => id) } } },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
    take,
    select: LOOP_LISTED,
  });
}

/** The loop that somebody added last. */
export function latestLoopOf(db: Queryable, ownerId: string) {
  return db.loop.findFirst({
    where: { ownerId, ...LISTED },
    orderBy: [{ createdAt: 'desc' }, { id: 'desc' }],
    select: { id: true },
  });
}

/** Whether there is such a loop to choose. */
export async function loopExists(db: Queryable, id: string): Promise<boolean> {
  return (await db.loop.findUnique({ where: { id, ...LISTED }, select: { id: true } })) !== null;
}

/** Loops by name from a place on; with a text those that have it in the name or the region. */
export async function listLoops(
  db: Queryable,
  shown: readonly ShownLabel[],
  text: string | undefined,
  place: Place<readonly [string, string]> | undefined,
  take: number,
) {
  const order = readingOrder(place, 'asc');
  const once = await onceCalled(db, 'loop', text, MOST_ONCE_CALLED);
  return db.loop.findMany({
    where: { ...loopWhere(text, once), AND: beyond<Prisma.LoopWhereInput>(['name', 'id'], place, 'asc') },
    orderBy: [{ name: order }, { id: order }],
    take,
    select: { ...LOOP_LISTED, _count: { select: { countedRuns: { where: { OR: [...shown] } } } } },
  });
}

export async function countLoops(db: Queryable, text: string | undefined): Promise<number> {
  const once = await onceCalled(db, 'loop', text, MOST_ONCE_CALLED);
  return db.loop.count({ where: loopWhere(text, once) });
}

function loopWhere(text: string | undefined, once: string[]): Prisma.LoopWhereInput {
  if (!text) return LISTED;
  const contains = containing(text);
  return { ...LISTED, OR: [{ name: contains }, { region: contains }, { id: { in: once } }] };
}

/** A loop with its shape; what of it is stored as JSON is empty where it cannot be read. */
export async function loopBySlug(db: Queryable, slug: string) {
  const loop = await db.loop.findUnique({
    where: { slug, mergedIntoId: null },
    select: {
      ...LOOP_LISTED,
      hiddenReason: true,
      description: true,
      lengthSource: true,
      netClimbM: true,
      grossClimbM: true,
      closureDistanceM: true,
      closureHeightM: true,
      sharedRouteShare: true,
      bearings: true,
      outline: true,
      elevationProfile: true,
      legs: {
        orderBy: { direction: 'asc' },
        select: { direction: true, lengthM: true, netClimbM: true, bearings: true },
      },
      owner: { select: { displayName: true, slug: true } },
    },
  });
  return (
    loop && {
      ...loop,
      bearings: readBearings(loop.bearings),
      outline: readOutline(loop.outline),
      elevationProfile: readElevation(loop.elevationProfile),
      legs: loop.legs.map((leg) => ({ ...leg, bearings: readBearings(leg.bearings) })),
    }
  );
}

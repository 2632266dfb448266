import type { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

export async function isLoopSlugTaken(db: Queryable, slug: string): Promise<boolean> {
  return (await db.loop.findUnique({ where: { slug }, select: { id: true } })) !== null;
}

export function insertLoop(db: Queryable, loop: Prisma.LoopUncheckedCreateInput) {
  return db.loop.create({ data: loop, select: { id: true, slug: true } });
}

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

export function listLoops(db: Queryable) {
  return db.loop.findMany({
    orderBy: { name: 'asc' },
    select: { ...LOOP_LISTED, _count: { select: { runs: { where: { status: 'approved' } } } } },
  });
}

export function loopBySlug(db: Queryable, slug: string) {
  return db.loop.findUnique({
    where: { slug },
    select: {
      ...LOOP_LISTED,
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
}

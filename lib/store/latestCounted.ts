import type { ShownLabel } from './countedRuns';
import type { Queryable } from './database';
import { MODEL_NAME } from './names';

export interface CountedOf {
  setup?: { slug: string };
  loop?: { slug: string };
  tester?: { slug: string };
  /** Numbers of runs. */
  number?: { in: number[] };
}

/** The runs that came to count last, with who, what and where. */
export function latestCounted(db: Queryable, shown: readonly ShownLabel[], of: CountedOf, take: number) {
  return db.countedRun.findMany({
    where: {
      OR: shown.map(({ world, methodVersion }) => ({ world, methodVersion })),
      ...of,
    },
    orderBy: [{ countedAt: 'desc' }, { number: 'desc' }],
    take,
    select: {
      number: true,
      day: true,
      monthOnly: true,
      countedAt: true,
      world: true,
      z: true,
      uWhPerKm: true,
      tester: { select: { displayName: true } },
      setup: { select: { title: true, model: { select: MODEL_NAME } } },
      loop: { select: { name: true } },
      cruiseClass: { select: { label: true } },
    },
  });
}

/** What a feed of a setup, a loop or a tester is called; null where there is no such thing. */
export function feedSetup(db: Queryable, slug: string) {
  return db.setup.findUnique({
    where: { slug, mergedIntoId: null },
    select: { title: true, model: { select: MODEL_NAME } },
  });
}

export function feedLoop(db: Queryable, slug: string) {
  return db.loop.findUnique({ where: { slug, mergedIntoId: null }, select: { name: true } });
}

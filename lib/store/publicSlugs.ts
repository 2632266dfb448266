import { PUBLIC_RUN_STATUSES } from '@/lib/run/runStatus';
import type { Queryable } from './database';
import { LISTED } from './loops';

export interface PublicSlugs {
  models: string[];
  setups: string[];
  loops: string[];
  studies: string[];
  testers: string[];
  /** The latest first. */
  runs: number[];
}

const slugs = (rows: readonly { slug: string }[]) => rows.map(({ slug }) => slug);

/** What has a public page of its own and stands in lists, at most so many of each. */
export async function publicSlugs(db: Queryable, take: number): Promise<PublicSlugs> {
  const bySlug = { select: { slug: true }, orderBy: { slug: 'asc' }, take } as const;
  const [models, setups, loops, studies, testers, runs] = await Promise.all([
    db.vehicleModel.findMany({ where: { hiddenAt: null }, ...bySlug }),
    db.setup.findMany({ where: { model: { hiddenAt: null }, countedRuns: { some: {} } }, ...bySlug }),
    db.loop.findMany({ where: LISTED, ...bySlug }),
    db.study.findMany(bySlug),
    db.account.findMany({ where: { countedRuns: { some: {} } }, ...bySlug }),
    db.run.findMany({
      where: { status: { in: [...PUBLIC_RUN_STATUSES] } },
      select: { number: true },
      orderBy: { number: 'desc' },
      take,
    }),
  ]);
  return {
    models: slugs(models),
    setups: slugs(setups),
    loops: slugs(loops),
    studies: slugs(studies),
    testers: slugs(testers),
    runs: runs.map(({ number }) => number),
  };
}

import { modelInText, modelWords } from '@/lib/run/modelWords';
import { firstOfMonth, publishedText } from '@/lib/run/publishedDay';
import { isSlug } from '@/lib/run/slug';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { type CountedOf, feedLoop, feedSetup, latestCounted } from '@/lib/store/latestCounted';
import { testerWithPage } from '../accounts/tester';
import { shownLabels } from '../counted/countedLabel';
import type { Registry } from '../registry';

/** A run as a feed tells of it. */
export interface FeedRun {
  number: number;
  /** yyyy-mm-dd; yyyy-mm where its tester publishes no more, and then counted as its month began. */
  day: string;
  countedAt: Date;
  world: WorldKey;
  tester: string;
  setup: string;
  model: string;
  loop: string;
  classLabel: string;
  /** At reference conditions; null where the method does not reach. */
  whPerKm: number | null;
  uWhPerKm: number | null;
}

/** What a feed can be of, beside everything and a study. */
export const FEED_KINDS = ['setups', 'loops', 'testers'] as const;
export type FeedKind = (typeof FEED_KINDS)[number];

/** As many as a reader that asks once a day can miss. */
export const MOST_ENTRIES = 50;

const OF: Record<FeedKind, (slug: string) => CountedOf> = {
  setups: (slug) => ({ setup: { slug } }),
  loops: (slug) => ({ loop: { slug } }),
  testers: (slug) => ({ tester: { slug } }),
};

/** What such a thing is called; undefined where it has no page. */
export async function readFeedTitle(
  registry: Registry,
  kind: FeedKind,
  slug: string,
): Promise<string | undefined> {
  if (!isSlug(slug)) return undefined;
  switch (kind) {
    case 'setups': {
      const setup = await feedSetup(registry.db, slug);
      return setup === null ? undefined : `${setup.title}, ${modelWords(setup.model)}`;
    }
    case 'loops':
      return (await feedLoop(registry.db, slug))?.name;
    case 'testers':
      return (await testerWithPage(registry, slug))?.displayName;
  }
}

/** The runs that came to count last: of everything, or of one setup, loop or tester. */
export async function readFeedRuns(
  registry: Registry,
  of?: { kind: FeedKind; slug: string },
): Promise<FeedRun[]> {
  if (of !== undefined && !isSlug(of.slug)) return [];
  return feedRuns(registry, of === undefined ? {} : OF[of.kind](of.slug));
}

/** Those among some runs that came to count last. */
export function readFeedOfRuns(registry: Registry, numbers: readonly number[]): Promise<FeedRun[]> {
  return feedRuns(registry, { number: { in: [...numbers] } });
}

async function feedRuns(registry: Registry, of: CountedOf): Promise<FeedRun[]> {
  const rows = await latestCounted(registry.db, await shownLabels(registry.db), of, MOST_ENTRIES);
  const runs = rows.map(
    ({ z, day, monthOnly, countedAt, world, tester, setup, loop, cruiseClass, ...run }) => ({
      ...run,
      day: publishedText(day, monthOnly),
      countedAt: monthOnly ? firstOfMonth(countedAt) : countedAt,
      world: worldKey(world),
      tester: tester.displayName,
      setup: setup.title,
      model: modelInText(setup.model),
      loop: loop.name,
      classLabel: cruiseClass.label,
      whPerKm: z === null ? null : Math.exp(z),
    }),
  );
  // by the times that are told, so that the order tells no other ones
  return runs.sort((a, b) => b.countedAt.getTime() - a.countedAt.getTime() || b.number - a.number);
}

import { FACTORS } from '@/lib/run/factors';
import { publicSlugs } from '@/lib/store/publicSlugs';
import type { Registry } from '../registry';

/** Six kinds of so many stay below what one sitemap may hold (50,000; sitemaps.org protocol 0.9). */
const MOST_OF_A_KIND = 8000;

/** Paths of pages of things, for those who look for everything there is: of runs the latest. */
export async function publicPaths(registry: Registry): Promise<string[]> {
  const { models, setups, loops, studies, testers, runs } = await publicSlugs(registry.db, MOST_OF_A_KIND);
  const below = (folder: string, parts: readonly (string | number)[]) =>
    parts.map((part) => `/${folder}/${encodeURIComponent(part)}`);
  return [
    ...below(
      'factors',
      FACTORS.map(({ key }) => key),
    ),
    ...below('models', models),
    ...below('setups', setups),
    ...below('loops', loops),
    ...below('studies', studies),
    ...below('testers', testers),
    ...below('runs', runs),
  ];
}

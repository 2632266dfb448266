import { modelWords } from '@/lib/run/modelWords';
import { isSlug } from '@/lib/run/slug';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { modelsOfTester, publicTester } from '@/lib/store/publicPages';
import { shownLabels } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { type PublicRunPage, readPublicRunPage } from '../runs/publicRuns';

export interface TesterView {
  slug: string;
  displayName: string;
  world: WorldKey;
  /** Models driven, with how many cars and approved runs; a car's own name and data stay private. */
  models: { name: string; slug: string; cars: number; runs: number }[];
  /** Approved, retracted and superseded. */
  publicRuns: number;
  /** Those that count. */
  runs: PublicRunPage;
}

/** Someone who has published nothing has no public page: null. */
export async function testerWithPage({ db }: Registry, slug: string) {
  const tester = isSlug(slug) ? await publicTester(db, slug) : null;
  return tester === null || (tester._count.runs === 0 && tester._count.loops === 0) ? null : tester;
}

/** What anyone may see of a tester: the name they chose, and their approved runs. */
export async function readTester(
  registry: Registry,
  slug: string,
  from?: string,
): Promise<TesterView | undefined> {
  const tester = await testerWithPage(registry, slug);
  if (tester === null) return undefined;
  const shown = await shownLabels(registry.db);
  const models = await modelsOfTester(registry.db, tester.id, shown);
  return {
    slug,
    displayName: tester.displayName,
    world: worldKey(tester.world),
    models: models
      .map(({ model, cars, runs }) => ({ name: modelWords(model), slug: model.slug, cars, runs }))
      .sort((a, b) => b.runs - a.runs),
    publicRuns: tester._count.runs,
    runs: await readPublicRunPage(registry, { testerId: tester.id }, from),
  };
}

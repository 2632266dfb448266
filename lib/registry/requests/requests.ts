import { modelInText } from '@/lib/run/modelWords';
import { currentFit } from '@/lib/store/fits';
import { modelsNamed, undrivenChanges } from '@/lib/store/openPairs';
import { type ChosenGroup, chooseGroup } from '../comparisons/comparisonWorld';
import type { Registry } from '../registry';
import { type DayWorthDriving, readWorthMost } from './worthMost';

/** A change that nobody has driven in the class, of a model that was driven as delivered. */
export interface Opening {
  slug: string;
  title: string;
  model: string;
}

export interface RequestsView extends ChosenGroup {
  openings: Opening[];
  worth: DayWorthDriving[];
}

const MOST_OPENINGS = 3;
const MOST_WORTH = 6;

/** What to drive next in a class: what would open a comparison, and what would teach most. */
export async function readRequests(
  registry: Registry,
  query: { classKey?: string | undefined; world?: string | undefined },
): Promise<RequestsView | undefined> {
  const chosen = await chooseGroup(registry, query);
  if (chosen === undefined) return undefined;
  const { group } = chosen;
  const [worth, openings] = await Promise.all([
    readWorthMost(registry, { group, take: MOST_WORTH }),
    readOpenings(registry, group),
  ]);
  return { ...chosen, worth, openings };
}

async function readOpenings(registry: Registry, group: ChosenGroup['group']): Promise<Opening[]> {
  const fit = await currentFit(registry.db, group);
  if (fit === null) return [];
  const found = await undrivenChanges(registry.db, { fitId: fit.id, world: group.world }, MOST_OPENINGS);
  const models = await modelsNamed(
    registry.db,
    found.map(({ modelId }) => modelId),
  );
  return found.flatMap(({ slug, title, modelId }) => {
    const model = models.get(modelId);
    return model === undefined ? [] : [{ slug, title, model: modelInText(model) }];
  });
}

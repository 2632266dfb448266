import { may } from '@/lib/access/permissions';
import { modelInText } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { currentFit } from '@/lib/store/fits';
import { modelsNamed, undrivenChanges } from '@/lib/store/openPairs';
import { listRequests, requestById } from '@/lib/store/testRequests';
import { type ChosenGroup, chooseGroup } from '../comparisons/comparisonWorld';
import type { Registry } from '../registry';
import { type RequestRow, rowsFor } from './requestRow';
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
  /** Open and being driven, the most voices first. */
  asked: RequestRow[];
  /** There may be more than are shown. */
  hasMore: boolean;
  answered: RequestRow[];
}

const MOST_OPENINGS = 3;
const MOST_WORTH = 6;
const MOST_ASKED = 30;
const MOST_ANSWERED = 10;

/** What to drive next in a class: what would open a comparison, what would teach most, and what readers ask for. */
export async function readRequests(
  registry: Registry,
  actor: Actor | undefined,
  query: { classKey?: string | undefined; world?: string | undefined },
): Promise<RequestsView | undefined> {
  const chosen = await chooseGroup(registry, query);
  if (chosen === undefined) return undefined;
  const { group } = chosen;
  const { db } = registry;
  const [worth, openings, asked, answered] = await Promise.all([
    readWorthMost(registry, { group, take: MOST_WORTH }),
    readOpenings(registry, group),
    listRequests(db, { ...group, states: ['open', 'taken'] }, MOST_ASKED + 1),
    listRequests(db, { ...group, states: ['answered'] }, MOST_ANSWERED),
  ]);
  const rows = await rowsFor(db, actor, [...asked.slice(0, MOST_ASKED), ...answered]);
  const isOver = ({ state }: RequestRow) => state === 'answered';
  return {
    ...chosen,
    worth,
    openings,
    asked: rows.filter((row) => !isOver(row)),
    hasMore: asked.length > MOST_ASKED,
    answered: rows.filter(isOver),
  };
}

/** One request; undefined for a hidden one, but to those who hide. */
export async function readRequest(
  registry: Registry,
  actor: Actor | undefined,
  id: string,
): Promise<(RequestRow & { hiddenReason: string | null }) | undefined> {
  const request = await requestById(registry.db, id);
  if (request === null) return undefined;
  if (request.hiddenAt !== null && !may(actor, 'hideRequest', undefined, worldKey(request.world)))
    return undefined;
  const [row] = await rowsFor(registry.db, actor, [request]);
  return row && { ...row, hiddenReason: request.hiddenReason };
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

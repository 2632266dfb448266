import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import { parsePlace, placeText } from '@/lib/run/runPlace';
import { type WorldKey, worldKey } from '@/lib/run/world';
import {
  type CountedListFilter,
  type CountedListRow,
  countListed,
  listCounted,
} from '@/lib/store/publicPages';
import { shownLabel, shownLabels } from '../counted/countedLabel';
import type { Registry } from '../registry';

/** A run that counts, as lists and figures of the public pages show it. */
export interface PublicRun {
  number: number;
  /** yyyy-mm-dd at the loop. */
  date: string;
  classKey: string;
  classLabel: string;
  setupId: string;
  setupTitle: string;
  setupSlug: string;
  model: string;
  modelSlug: string;
  carId: string;
  sessionId: string;
  testerName: string;
  testerSlug: string;
  loopId: string;
  loopName: string;
  loopSlug: string;
  measuredWhPerKm: number | null;
  /** Null where the conditions lay outside the method's reach. */
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
  /** Relative standard uncertainty of the part that is the run's own. */
  uRunRelative: number | null;
  world: WorldKey;
}

export interface PublicRunFilter extends Omit<CountedListFilter, 'shown'> {
  /** All that have counted something, where none is named. */
  world?: WorldKey;
}

/** Counted runs that match, the latest first. */
export async function readPublicRuns(
  registry: Registry,
  filter: PublicRunFilter,
  take?: number,
): Promise<PublicRun[]> {
  return (await listCounted(registry.db, await listFilter(registry, filter), take)).map(publicRun);
}

/** Of a list that goes on: places to go on from, as they stand in an address. */
export interface PublicRunPage {
  runs: PublicRun[];
  /** Of all pages. */
  total: number;
  newer: string | undefined;
  older: string | undefined;
}

/** Which page of a list is asked for, as it stands in an address. */
export interface PageQuery {
  before?: string | undefined;
  after?: string | undefined;
}

export const PUBLIC_PAGE_SIZE = 25;

/** One page of the counted runs that match, the latest first; a place that is none opens the first. */
export async function readPublicRunPage(
  registry: Registry,
  filter: PublicRunFilter,
  query: PageQuery,
): Promise<PublicRunPage> {
  const [before, after] = [parsePlace(query.before), parsePlace(query.after)];
  const start = before ? { before } : after ? { after } : undefined;
  const wanted = await listFilter(registry, filter);
  const [found, total] = await Promise.all([
    listCounted(registry.db, wanted, PUBLIC_PAGE_SIZE + 1, start),
    countListed(registry.db, wanted),
  ]);
  const goesOn = found.length > PUBLIC_PAGE_SIZE;
  const isBackward = start !== undefined && 'after' in start;
  const runs = (isBackward ? found.slice(-PUBLIC_PAGE_SIZE) : found.slice(0, PUBLIC_PAGE_SIZE)).map(
    publicRun,
  );
  const [first, last] = [runs[0], runs.at(-1)];
  // past either end, as after a retraction: the first page
  if (start !== undefined && (runs.length === 0 || (isBackward && runs.length < PUBLIC_PAGE_SIZE)))
    return readPublicRunPage(registry, filter, {});
  return {
    runs,
    total,
    newer: first && (isBackward ? goesOn : start !== undefined) ? placeText(first) : undefined,
    older: last && (isBackward || goesOn) ? placeText(last) : undefined,
  };
}

async function listFilter(
  registry: Registry,
  { world, ...filter }: PublicRunFilter,
): Promise<CountedListFilter> {
  const shown =
    world === undefined
      ? await shownLabels(registry.db)
      : [{ world, methodVersion: await shownLabel(registry.db, world) }];
  return { ...filter, shown };
}

function publicRun(row: CountedListRow): PublicRun {
  return {
    number: row.number,
    date: dateText(row.day),
    classKey: row.cruiseClassKey,
    classLabel: row.cruiseClass.label,
    setupId: row.setupId,
    setupTitle: row.setup.title,
    setupSlug: row.setup.slug,
    model: modelWords(row.setup.model),
    modelSlug: row.setup.model.slug,
    carId: row.carId,
    sessionId: row.sessionId,
    testerName: row.tester.displayName,
    testerSlug: row.tester.slug,
    loopId: row.loop.id,
    loopName: row.loop.name,
    loopSlug: row.loop.slug,
    measuredWhPerKm: row.measuredWhPerKm,
    normalisedWhPerKm: row.z === null ? null : Math.exp(row.z),
    uWhPerKm: row.uWhPerKm,
    uRunRelative: row.u,
    world: worldKey(row.world),
  };
}

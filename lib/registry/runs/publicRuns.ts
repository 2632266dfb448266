import { z } from 'zod';
import { dateText } from '@/lib/run/localDate';
import { modelWords } from '@/lib/run/modelWords';
import { publishedText } from '@/lib/run/publishedDay';
import { type WorldKey, worldKey } from '@/lib/run/world';
import {
  type CountedListFilter,
  type CountedListRow,
  countCountedOf,
  listCounted,
} from '@/lib/store/publicPages';
import { shownLabel, shownLabels } from '../counted/countedLabel';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

/** A run that counts, as lists and figures of the public pages show it. */
export interface PublicRun {
  number: number;
  /** yyyy-mm-dd at the loop; yyyy-mm where its tester publishes no more. */
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

/** Counted runs that match, the latest first, as many as are asked for. */
export async function readPublicRuns(
  registry: Registry,
  filter: PublicRunFilter,
  take: number,
): Promise<PublicRun[]> {
  return (await listCounted(registry.db, await listFilter(registry, filter), take)).map(publicRun);
}

export type PublicRunPage = Page<PublicRun> & { total: number };

const PAGE_SIZE = 25;

/** One page of the counted runs that match, the latest first, and how many there are. */
export async function readPublicRunPage(
  registry: Registry,
  filter: PublicRunFilter,
  from?: string,
): Promise<PublicRunPage> {
  const wanted = await listFilter(registry, filter);
  const [page, total] = await Promise.all([
    readPage(from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.day, keyPart.integer]),
      read: (place, take) => listCounted(registry.db, wanted, take, place),
      keyOf: ({ day, number }) => [dateText(day), number],
    }),
    countCountedOf(registry.db, wanted),
  ]);
  return { ...page, total, rows: page.rows.map(publicRun) };
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
    date: publishedText(row.day, row.monthOnly),
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

import { z } from 'zod';
import { searchText } from '@/lib/run/storableText';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { countLoops, listLoops } from '@/lib/store/loops';
import { shownLabels } from '../counted/countedLabel';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';

export interface ListedLoop {
  id: string;
  slug: string;
  name: string;
  region: string;
  turnaround: string;
  lengthM: number;
  lengthUncertaintyM: number;
  altitudeM: number;
  postedLimitMps: number;
  offCruiseShare: number;
  approvedRuns: number;
  world: WorldKey;
}

export interface ListQuery {
  from?: string | undefined;
  /** Part of a name. */
  text?: string | undefined;
}

const PAGE_SIZE = 50;

/** Loops by name, a page of them, and how many there are. */
export async function readLoops(
  registry: Registry,
  query: ListQuery = {},
): Promise<Page<ListedLoop> & { total: number }> {
  const text = searchText(query.text);
  const shown = await shownLabels(registry.db);
  const [page, total] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.text, keyPart.uuid]),
      read: (place, take) => listLoops(registry.db, shown, text, place, take),
      keyOf: ({ name, id }) => [name, id],
    }),
    countLoops(registry.db, text),
  ]);
  return {
    ...page,
    total,
    rows: page.rows.map(({ _count, ...loop }) => ({
      ...loop,
      world: worldKey(loop.world),
      approvedRuns: _count.countedRuns,
    })),
  };
}

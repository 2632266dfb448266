import { searchText } from '@/lib/run/storableText';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { countModels, listModels } from '@/lib/store/models';
import { countedByModel } from '@/lib/store/publicPages';
import { shownLabels } from '../counted/countedLabel';
import { keyPart, type Page, readPage } from '../keyset';
import type { ListQuery } from '../loops/loops';
import type { Registry } from '../registry';

export interface ListedModel {
  id: string;
  slug: string;
  maker: string;
  name: string;
  modelYear: number;
  variant: string;
  bodyClass: string;
  setups: number;
  cars: number;
  approvedRuns: number;
  world: WorldKey;
}

const PAGE_SIZE = 50;

/** Models by maker and name, a page of them, and how many there are. */
export async function readModels(
  registry: Registry,
  query: ListQuery = {},
): Promise<Page<ListedModel> & { total: number }> {
  const text = searchText(query.text);
  const [page, total] = await Promise.all([
    readPage(query.from, {
      size: PAGE_SIZE,
      key: keyPart.text,
      read: (place, take) => listModels(registry.db, text, place, take),
      keyOf: ({ slug }) => slug,
    }),
    countModels(registry.db, text),
  ]);
  const runs = await countedByModel(
    registry.db,
    await shownLabels(registry.db),
    page.rows.map(({ id }) => id),
  );
  return {
    ...page,
    total,
    rows: page.rows.map(({ maker, _count, ...model }) => ({
      ...model,
      world: worldKey(model.world),
      maker: maker.name,
      setups: _count.setups,
      cars: _count.cars,
      approvedRuns: runs.get(model.id) ?? 0,
    })),
  };
}

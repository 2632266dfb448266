import { type WorldKey, worldKey } from '@/lib/run/world';
import { countedByModel } from '@/lib/store/publicPages';
import { listModels } from '@/lib/store/vehicles';
import { shownLabels } from '../counted/countedLabel';
import type { Registry } from '../registry';

export interface ListedModel {
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

/** All models, by maker and name. */
export async function readModels(registry: Registry): Promise<ListedModel[]> {
  const [models, runs] = await Promise.all([
    listModels(registry.db),
    countedByModel(registry.db, await shownLabels(registry.db)),
  ]);
  return models.map(({ id, maker, _count, ...model }) => ({
    ...model,
    world: worldKey(model.world),
    maker: maker.name,
    setups: _count.setups,
    cars: _count.cars,
    approvedRuns: runs.get(id) ?? 0,
  }));
}

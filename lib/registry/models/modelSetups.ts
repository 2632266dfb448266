import { FACTORS } from '@/lib/run/factors';
import { baselineOf, fullLevels, type LevelWords } from '@/lib/run/setupLevels';
import { isSlug } from '@/lib/run/slug';
import { modelBySlug } from '@/lib/store/models';
import { shownLabels } from '../counted/countedLabel';
import type { Registry } from '../registry';

export interface ModelSetup {
  setupId: string;
  slug: string;
  title: string;
  levels: LevelWords[];
  /** Approved, in all classes. */
  runs: number;
}

export interface ModelFactor {
  factor: string;
  label: string;
  levels: { key: string; label: string; isAsDelivered: boolean }[];
}

/** A model with its setups at full length and the one that stands for "as delivered". */
export async function readModelSetups(registry: Registry, slug: string) {
  if (!isSlug(slug)) return undefined;
  const model = await modelBySlug(registry.db, slug, await shownLabels(registry.db));
  if (model === null) return undefined;
  const setups: ModelSetup[] = model.setups.map((setup) => ({
    setupId: setup.id,
    slug: setup.slug,
    title: setup.title,
    levels: fullLevels(setup, model.levels),
    runs: setup._count.countedRuns,
  }));
  const factors = FACTORS.flatMap(({ key, label }): ModelFactor[] => {
    const levels = model.levels.filter((level) => level.factor === key);
    if (levels.length === 0) return [];
    return [
      {
        factor: key,
        label,
        levels: levels
          .map((level) => ({ key: level.key, label: level.label, isAsDelivered: level.isBaseline }))
          .sort((a, b) => Number(b.isAsDelivered) - Number(a.isAsDelivered)),
      },
    ];
  });
  return { model, setups, factors, baseline: baselineOf(setups) };
}

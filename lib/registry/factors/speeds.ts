import type { AnswerNumbers } from '@/lib/answers/answer';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { modelInText } from '@/lib/run/modelWords';
import type { WorldKey } from '@/lib/run/world';
import type { PooledEffect } from '@/lib/stats/factors/pooledEffect';
import type { SpeedStepKept } from '@/lib/stats/factors/stored';
import { percentOf } from '@/lib/stats/orientedContrast';
import { cruiseSpeedOf, setupsByIds } from '@/lib/store/factorConclusions';
import { chooseGroup } from '../comparisons/comparisonWorld';
import type { Registry } from '../registry';
import { MOST_MODELS } from './bounds';
import { pooledNumbers } from './effects';

export interface SpeedAnswer extends AnswerNumbers {
  /** Cars of the model that drove both, or models. */
  groups: number;
  /** By how much consumption rises for each 10 km/h between the two, %: of the same ratio, taken evenly. */
  perTenKmhPercent: number;
}

export interface SpeedOfModel {
  setup: { setupId: string; slug: string; title: string };
  model: string;
  modelSlug: string;
  cars: number;
  /** Null with too few cars. */
  answer: SpeedAnswer | null;
}

/** What the faster of two classes cost. */
export interface SpeedStepView {
  slow: { key: string; label: string };
  fast: { key: string; label: string };
  models: SpeedOfModel[];
  of: number;
  pooled: SpeedAnswer | null;
}

export interface SpeedsView {
  steps: SpeedStepView[];
  computedAt: Date;
}

/** What cruise speed did in a world, by step from class to class; undefined where it was not concluded yet. */
export async function readSpeeds(
  registry: Registry,
  world: WorldKey,
  most: number,
): Promise<SpeedsView | undefined> {
  const kept = await cruiseSpeedOf(registry.db, world);
  if (kept === undefined) return undefined;
  const ids = kept.steps.flatMap(({ models }) => models.slice(0, most).map(({ setupId }) => setupId));
  const setups = await setupsByIds(registry.db, ids);
  return { steps: kept.steps.flatMap((step) => stepView(step, setups, most)), computedAt: kept.computedAt };
}

/** The same of the world that a reader means, whole; undefined where nothing was fitted or concluded yet. */
export async function readSpeedsOfWorld(
  registry: Registry,
  world: string | undefined,
): Promise<(SpeedsView & { world: WorldKey }) | undefined> {
  const chosen = await chooseGroup(registry, { world });
  const view = chosen && (await readSpeeds(registry, chosen.group.world, MOST_MODELS));
  return chosen && view && { ...view, world: chosen.group.world };
}

function stepView(
  step: SpeedStepKept,
  setups: Awaited<ReturnType<typeof setupsByIds>>,
  most: number,
): SpeedStepView[] {
  const [slow, fast] = [cruiseClassByKey(step.slowKey), cruiseClassByKey(step.fastKey)];
  if (slow === undefined || fast === undefined || step.models.length === 0) return [];
  const tens = (fast.speedMps - slow.speedMps) / (10 / 3.6);
  const answer = (effect: PooledEffect | null): SpeedAnswer | null =>
    effect === null
      ? null
      : {
          ...pooledNumbers(effect),
          groups: effect.groups,
          perTenKmhPercent: percentOf(effect.estimate / tens),
        };
  const models = step.models.slice(0, most).flatMap(({ setupId, cars, effect }): SpeedOfModel[] => {
    const setup = setups.get(setupId);
    if (setup === undefined) return [];
    return [
      {
        setup: { setupId, slug: setup.slug, title: setup.title },
        model: modelInText(setup.model),
        modelSlug: setup.model.slug,
        cars,
        answer: answer(effect),
      },
    ];
  });
  return [
    {
      slow: { key: slow.key, label: slow.label },
      fast: { key: fast.key, label: fast.label },
      models,
      of: step.of,
      pooled: answer(step.pooled),
    },
  ];
}

import type { Variances } from '../accumulate';
import { cruiseSpeedEffect, type SpeedRun, type VarianceUncertainty } from '../cruiseSpeed';
import type { GroupEffect } from '../moderatedMean';
import { type AnsweringGroup, poolQuestions, type Question } from './pooledEffect';
import type { SpeedStepKept } from './stored';

export interface DrivenRun extends SpeedRun {
  tester: string;
}

/** One setup of a model, driven in two classes. */
export interface SpeedPair {
  modelId: string;
  setupId: string;
  slow: readonly DrivenRun[];
  fast: readonly DrivenRun[];
}

/** A class's fitted components, with how well those of days and runs are known. */
export interface FittedVariances {
  components: Variances;
  uncertainty?: VarianceUncertainty | undefined;
}

export interface SpeedStep {
  slowKey: string;
  fastKey: string;
  slow: FittedVariances;
  fast: FittedVariances;
  pairs: readonly SpeedPair[];
}

/**
 * What the faster of two classes did to consumption, ln ratio, by model and over models (method C7). Every number that
 * enough cars, or models, stand behind is one question of a family: all of a world's are asked at once. What the cars
 * of a model share by the method they share with other models too.
 */
export function speedSteps(steps: readonly SpeedStep[], most: number): SpeedStepKept[] {
  const asked = steps.flatMap((step, index) =>
    step.pairs.map((pair) => {
      const { cars } = cruiseSpeedEffect(
        { runs: pair.fast, ...step.fast },
        { runs: pair.slow, ...step.slow },
      );
      const groups = cars.map((car) => ({ ...car, testers: testersOf(pair, car.name) }));
      return { index, pair, groups, key: `${index} ${pair.modelId}` };
    }),
  );
  const byModel = poolQuestions(asked);
  const across = steps.map(
    (_, index): Question => ({
      key: `${index}`,
      groups: asked.flatMap((one) => {
        const effect = byModel.get(one.key);
        return one.index !== index || effect === undefined ? [] : [modelOf(one.pair, one.groups, effect)];
      }),
    }),
  );
  const all = poolQuestions([...asked, ...across]);
  return steps.map((step, index) => {
    const models = asked
      .filter((one) => one.index === index && one.groups.length > 0)
      .map(({ key, pair, groups }) => ({
        modelId: pair.modelId,
        setupId: pair.setupId,
        cars: groups.length,
        effect: all.get(key) ?? null,
      }))
      .sort((a, b) => b.cars - a.cars || (a.modelId < b.modelId ? -1 : 1));
    return {
      slowKey: step.slowKey,
      fastKey: step.fastKey,
      models: models.slice(0, most),
      of: models.length,
      pooled: all.get(`${index}`) ?? null,
    };
  });
}

const METHOD = 'method ';

/** A model's mean over its cars as one answer among models: what it shares by the method is the cars' mean share. */
function modelOf(
  pair: SpeedPair,
  cars: readonly AnsweringGroup[],
  effect: { estimate: number; se: number; df: number },
): AnsweringGroup {
  const shared: Record<string, number> = {};
  for (const car of cars) {
    for (const [key, left] of Object.entries(car.shared ?? {})) {
      if (key.startsWith(METHOD)) shared[key] = (shared[key] ?? 0) + left / cars.length;
    }
  }
  const total = effect.se * effect.se;
  const ofMethod = Object.values(shared).reduce((sum, left) => sum + left * left, 0);
  const variance = Math.max(total - ofMethod, total * 1e-6);
  return {
    name: pair.modelId,
    y: effect.estimate,
    variance,
    df: effect.df * (variance / total) ** 2,
    shared,
    testers: meanTesters(cars),
  };
}

function meanTesters(cars: readonly AnsweringGroup[]): Record<string, number> {
  const mean: Record<string, number> = {};
  for (const { testers } of cars) {
    for (const [tester, share] of Object.entries(testers))
      mean[tester] = (mean[tester] ?? 0) + share / cars.length;
  }
  return mean;
}

/** By counts of the car's runs. */
function testersOf({ slow, fast }: SpeedPair, car: GroupEffect['name']): Record<string, number> {
  const own = [...slow, ...fast].filter((run) => run.car === car);
  const shares: Record<string, number> = {};
  for (const { tester } of own) shares[tester] = (shares[tester] ?? 0) + 1 / own.length;
  return shares;
}

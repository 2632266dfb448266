import { describe, expect, it } from 'vitest';
import { type DrivenRun, type SpeedPair, speedSteps } from '@/lib/stats/factors/speedSteps';

const COMPONENTS = { car: 1e-4, carLoop: 0, session: 1e-4, residual: 6.4e-5 };

/** Cars whose own level differs while the step does not. */
function pairOf(modelId: string, cars: number, step: number, tester = (car: number) => `t${car}`): SpeedPair {
  const runs = (z: number): DrivenRun[] =>
    Array.from({ length: cars }, (_, car) =>
      [1, 2].map((day) => ({
        car: `${modelId}${car}`,
        session: `${modelId}${car}${day}${z}`,
        tester: tester(car),
        z: z + 0.03 * car,
        u: 0.005,
        shared: [{ key: 'yaw', scope: 'method' as const, contribution: z > 5.2 ? 0.003 : 0.001 }],
      })),
    ).flat();
  return { modelId, setupId: `${modelId} as delivered`, slow: runs(5), fast: runs(5 + step) };
}

const stepOf = (...pairs: SpeedPair[]) => ({
  slowKey: 'kmh-90',
  fastKey: 'kmh-110',
  slow: { components: COMPONENTS },
  fast: { components: COMPONENTS },
  pairs,
});

describe('what a step of speed costs', () => {
  it('is found by model and over models, whatever the cars’ own levels are', () => {
    const [step] = speedSteps([stepOf(pairOf('a', 3, 0.2), pairOf('b', 4, 0.21), pairOf('c', 3, 0.22))], 40);
    expect(step?.models.map(({ modelId, cars }) => [modelId, cars])).toEqual([
      ['b', 4],
      ['a', 3],
      ['c', 3],
    ]);
    expect(step?.models.find(({ modelId }) => modelId === 'a')?.effect?.estimate).toBeCloseTo(0.2, 10);
    expect(step?.pooled?.estimate).toBeCloseTo(0.21, 2);
    expect(step?.pooled?.word).toBe('settled');
    // the mean over models holds what all of them share by the method: it does not average away
    expect(step?.pooled?.se).toBeGreaterThan(0.002);
  });

  it('has no number for a model with two cars, nor for all with two models', () => {
    const [step] = speedSteps([stepOf(pairOf('a', 2, 0.2), pairOf('b', 3, 0.2), pairOf('c', 3, 0.2))], 40);
    expect(step?.models.find(({ modelId }) => modelId === 'a')).toMatchObject({ cars: 2, effect: null });
    expect(step?.pooled).toBeNull();
  });

  it('is not settled where one tester drove every car', () => {
    const [step] = speedSteps([stepOf(pairOf('a', 3, 0.2, () => 'ann'))], 40);
    expect(step?.models[0]?.effect).toMatchObject({ word: 'leaning', restsOnOne: true });
  });

  it('keeps a bounded number of models and says how many there are', () => {
    const [step] = speedSteps([stepOf(pairOf('a', 3, 0.2), pairOf('b', 3, 0.2), pairOf('c', 3, 0.2))], 2);
    expect(step?.models).toHaveLength(2);
    expect(step).toMatchObject({ of: 3, pooled: { groups: 3 } });
  });
});

import { describe, expect, it } from 'vitest';
import { modelDifference } from '@/lib/stats/factors/modelDifference';

const FIT = {
  setups: ['base', 'other', 'low'],
  sharedEffects: [
    { key: 'yaw of *', scope: 'method' as const, effects: [0.004, 0.5, 0.001] },
    { key: 'drag of m', scope: 'model' as const, effects: [0.02, 0, 0.01] },
  ],
};
const PAIR = { baselineId: 'base', setupId: 'low' };

describe('a model’s difference as one answer among several', () => {
  it('leaves out of its own variance what hangs on the method, and keeps that by key', () => {
    const found = modelDifference('m', { difference: -0.02, se: 0.005, dof: 20 }, PAIR, FIT);
    expect(found.shared).toEqual({ 'yaw of *': 0.001 - 0.004 });
    // 0.005² − 0.003² = 0.004²
    expect(found.variance).toBeCloseTo(0.004 ** 2, 12);
    expect(found.y).toBe(-0.02);
    // the noise of the variance stays that of the fit: 2 T²/ν = 2 D²/ν'
    expect((2 * found.variance ** 2) / found.df).toBeCloseTo((2 * 0.005 ** 4) / 20, 15);
  });

  it('stays positive where the method is all of it', () => {
    const found = modelDifference('m', { difference: -0.02, se: 0.003, dof: 20 }, PAIR, FIT);
    expect(found.variance).toBeGreaterThan(0);
    expect(found.variance).toBeLessThan(1e-10);
  });
});

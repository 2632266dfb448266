import { describe, expect, it } from 'vitest';
import { measureCoverage } from '../../bench/coverage';

describe('coverage', () => {
  it('is kept by simultaneous intervals and rank sets over 150 seeded groups', { timeout: 60_000 }, () => {
    const found = measureCoverage(
      {
        name: 'quick',
        cars: 8,
        sessions: 2,
        runs: 3,
        setups: 4,
        sdCar: 0.04,
        sdSession: 0.02,
        sdRun: 0.015,
        u: 0.006,
        step: 0,
      },
      150,
      5,
    );
    // Four binomial standard errors about 95 %: 1.8 points each. The bench holds the tighter figures.
    expect(Math.abs(found.simultaneous - 0.95)).toBeLessThan(0.072);
    expect(Math.abs(found.pointwise - 0.95)).toBeLessThan(0.04);
    expect(found.rankSets).toBeGreaterThanOrEqual(0.95 - 0.072);
  });
});

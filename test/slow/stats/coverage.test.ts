import { describe, expect, it } from 'vitest';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import { measureCoverage } from '../../bench/coverage';
import { measureRedrawn } from '../../bench/demoCoverage';

describe('coverage', () => {
  it('is kept by simultaneous intervals and rank sets over 150 seeded groups', { timeout: 180_000 }, () => {
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

  it('is kept in every class of the demo world over 30 draws of its effects', { timeout: 180_000 }, () => {
    const classes = measureRedrawn(generateDemoWorld({ seed: 20_261_031 }), 30, 8);
    expect([...classes.keys()]).toEqual(['kmh-110', 'kmh-130', 'kmh-90', 'mph-70']);
    for (const [name, found] of classes) {
      // Four binomial standard errors about 95 %: 4 points each.
      expect(Math.abs(found.simultaneous - 0.95), name).toBeLessThan(0.16);
      expect(found.withinModel, name).toBeGreaterThanOrEqual(0.95 - 0.16);
      expect(found.rankSets, name).toBeGreaterThanOrEqual(0.95 - 0.16);
    }
  });
});

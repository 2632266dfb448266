import { describe, expect, it } from 'vitest';
import { planSeparation } from '@/lib/stats/separationPlan';
import { readResult } from './reference';

interface Row {
  n: number;
  delta: number;
  sd: number;
  power: number;
}
const { paired_80: rows } = readResult<{ paired_80: Row[] }>('power');
const percent = (log: number) => 100 * Math.expm1(log);

describe('what would settle a difference', () => {
  it('asks for as many paired sessions as R’s power.t.test, rounded up', () => {
    for (const { n, delta, sd, power } of rows) {
      const plan = planSeparation(
        { percent: percent(delta), power },
        {
          // One run a side in each session: the difference has variance 2 (v + u²).
          components: { car: 1, carLoop: 0, session: 1, residual: 0.6 * (sd ** 2 / 2) },
          repeatability: { sr: 0, sR: 0, r: 0, R: 0, meanKnownVariance: 0.4 * (sd ** 2 / 2) },
        },
        undefined,
        true,
      );
      const once = plan.plans.find(({ way }) => way.includes('once each'));
      expect(once?.blocks).toBe(Math.ceil(n));
      expect(once?.runsPerSetup).toBe(Math.ceil(n));
    }
  });

  it('has no plan without a repeated run, and nothing detectable without a standard error', () => {
    const plan = planSeparation(
      { percent: 2, power: 0.8 },
      { components: { car: 0, carLoop: 0, session: 0, residual: 0 }, repeatability: null },
      { se: null, dof: null },
      true,
    );
    expect(plan.plans).toEqual([]);
    expect(plan.cannotPlan).not.toBeNull();
    expect(plan.detectablePercent).toBeNull();
  });

  it('goes by cars where the setups are of two models', () => {
    const plan = planSeparation(
      { percent: 3, power: 0.8 },
      {
        components: { car: 1e-4, carLoop: 0, session: 1e-4, residual: 1e-4 },
        repeatability: { sr: 0.01, sR: 0.02, r: 0.03, R: 0.05, meanKnownVariance: 0 },
      },
      { se: 0.01, dof: 10 },
      false,
    );
    expect(plan.plans.length).toBeGreaterThan(0);
    expect(plan.plans.every(({ blockWord }) => blockWord === 'cars of each')).toBe(true);
    // More than two standard errors, less than four: t(10) needs 3.1 for a power of 0.8.
    expect(plan.detectablePercent).toBeGreaterThan(2.8);
    expect(plan.detectablePercent).toBeLessThan(3.5);
  });
});

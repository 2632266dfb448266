import { describe, expect, it } from 'vitest';
import { createRandom, drawNormal } from '@/lib/numerics/random';
import { type FactorRun, factorEffects } from '@/lib/stats/factorEffects';
import { type GroupEffect, moderatedMean } from '@/lib/stats/moderatedMean';

describe('the effect of one factor', () => {
  it('covers the true effect about 95 times in 100', () => {
    const random = createRandom(1);
    let covered = 0;
    const studies = 2000;
    for (let i = 0; i < studies; i++) {
      const runs: FactorRun[] = [];
      for (let s = 0; s < 8; s++) {
        const day = 0.03 * drawNormal(random);
        for (const [height, effect] of [
          ['low', -0.02],
          ['normal', 0],
        ] as const) {
          for (let k = 0; k < 2; k++) {
            const z = 5 + day + effect + 0.015 * drawNormal(random);
            runs.push({
              car: `c${s % 3}`,
              session: `${s}`,
              z,
              variance: 0.015 ** 2,
              runs: 1,
              levels: { height },
            });
          }
        }
      }
      const interval = factorEffects(runs, 'height', 'normal')[0]?.combined?.interval;
      if (interval && interval[0] <= -0.02 && interval[1] >= -0.02) covered++;
    }
    // With equal precision the interval is the paired t, which covers exactly; four binomial standard errors.
    expect(Math.abs(covered / studies - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / studies));
  });
});

describe('a factor across models', () => {
  it.each([3, 8])('holds in about 95 % of 1,000 simulated sets of %i models', (k) => {
    const random = createRandom(17 + k);
    let held = 0;
    for (let i = 0; i < 1000; i++) {
      const between = 0.005 * Math.exp(0.35 * drawNormal(random));
      const effects: GroupEffect[] = Array.from({ length: k }, (_, j) => {
        const sd = 0.004 * (1 + (j % 3));
        const y = between * drawNormal(random) + sd * drawNormal(random);
        return { name: `${j}`, y, variance: sd * sd, df: Number.POSITIVE_INFINITY };
      });
      const [low, high] = moderatedMean(effects)?.interval ?? [1, -1];
      if (low <= 0 && high >= 0) held++;
    }
    // The method's simulation: 94.0 to 95.9 %; three binomial standard errors of 1,000 are 2.1 points.
    expect(held).toBeGreaterThan(919);
    expect(held).toBeLessThan(981);
  });
});

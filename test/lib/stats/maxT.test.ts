import { describe, expect, it } from 'vitest';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import { chiScales, drawCorrelated, holm } from '@/lib/stats/maxT';
import { maxTQuantile, sidakQuantile } from '@/lib/stats/maxTFamily';
import { studentizedRangeQuantile } from '@/lib/stats/studentizedRange';
import { readResult } from './reference';

/** All pairs of m equally precise independent means. */
function balanced(m: number, variance = 1) {
  const covariance = new Float64Array(m * m);
  for (let i = 0; i < m; i++) covariance[i * m + i] = variance;
  const pairs: [number, number][] = [];
  for (let a = 0; a < m; a++) for (let b = a + 1; b < m; b++) pairs.push([a, b]);
  return {
    covariance,
    pairs: {
      a: Int32Array.from(pairs, ([a]) => a),
      b: Int32Array.from(pairs, ([, b]) => b),
      se: Float64Array.from(pairs, () => Math.sqrt(2 * variance)),
    },
  };
}

describe('max-t critical values', { timeout: 30_000 }, () => {
  // For a balanced layout the critical value is that of Tukey's range over √2 (Hochberg & Tamhane 1987, ch. 3).
  it.each([
    [3, 27, 0.95],
    [5, 8, 0.95],
    [10, 60, 0.95],
    [20, 20, 0.99],
    [6, 3, 0.9],
  ])('equals Tukey for %i balanced means at %i degrees of freedom, level %f', (m, df, level) => {
    const { covariance, pairs } = balanced(m, 0.37);
    const found = maxTQuantile(drawCorrelated(covariance, m, 20_000, 1), pairs, level).describe(df);
    const wanted = studentizedRangeQuantile(level, m, df) / Math.SQRT2;
    expect(found.method).toBe('max-t');
    expect(found.pairs).toBe((m * (m - 1)) / 2);
    expect(found.monteCarloError / wanted).toBeLessThan(0.005);
    expect(Math.abs(found.value - wanted)).toBeLessThan(4 * found.monteCarloError + 1e-4);
  });

  it('is honest about its Monte Carlo error: the spread over seeds is what it states', () => {
    const { covariance, pairs } = balanced(8);
    const values = Array.from({ length: 24 }, (_, i) =>
      maxTQuantile(drawCorrelated(covariance, 8, 2000, 100 + i), pairs, 0.95).describe(30),
    );
    const mean = values.reduce((sum, v) => sum + v.value, 0) / values.length;
    const spread = Math.sqrt(values.reduce((sum, v) => sum + (v.value - mean) ** 2, 0) / (values.length - 1));
    const stated = Math.sqrt(values.reduce((sum, v) => sum + v.monteCarloError ** 2, 0) / values.length);
    // A standard deviation from 24 values is known to about ± 15 %; three of those either way.
    expect(spread / stated).toBeGreaterThan(0.5);
    expect(spread / stated).toBeLessThan(1.6);
  });

  it('is Student t for a single pair, whatever the draws', () => {
    const { covariance, pairs } = balanced(2);
    const found = maxTQuantile(drawCorrelated(covariance, 2, 100, 1), pairs, 0.95).describe(9);
    expect(found.value).toBeCloseTo(tUpperQuantile(0.025, 9), 12);
    expect(found.monteCarloError).toBe(0);
  });

  it('lies between the single comparison and Bonferroni', () => {
    const { covariance, pairs } = balanced(6);
    // Strongly unequal precision.
    covariance[0] = 25;
    const se = Float64Array.from(pairs.a, (a, i) =>
      Math.sqrt((covariance[a * 7] as number) + (covariance[(pairs.b[i] as number) * 7] as number)),
    );
    const found = maxTQuantile(drawCorrelated(covariance, 6, 5000, 2), { ...pairs, se }, 0.95).at(12);
    expect(found).toBeGreaterThan(tUpperQuantile(0.025, 12));
    expect(found).toBeLessThan(tUpperQuantile(0.025 / 15, 12));
    expect(sidakQuantile(15, 0.95).at(12)).toBeGreaterThan(found);
  });

  it('repeats for a seed', () => {
    const { covariance, pairs } = balanced(4);
    const once = () => maxTQuantile(drawCorrelated(covariance, 4, 1000, 5), pairs, 0.95).describe(20);
    expect(once()).toEqual(once());
  });

  it("agrees with R's simulated critical values for 40 setups within both Monte Carlo errors", () => {
    interface Lmer {
      vcov: number[][];
      pairs: { i: number; j: number; se: number }[];
      maxt_mc: { crit: Record<string, number> };
    }
    const lmer = readResult<Lmer>('synth2k_lmer');
    const draws = drawCorrelated(Float64Array.from(lmer.vcov.flat()), 40, 20_000, 1);
    const pairs = {
      a: Int32Array.from(lmer.pairs, (p) => p.i - 1),
      b: Int32Array.from(lmer.pairs, (p) => p.j - 1),
      se: Float64Array.from(lmer.pairs, (p) => p.se),
    };
    // R simulated normal draws; its stated error at 95 % is 0.01 (about half that at 90 %, twice at 99 %).
    const errors: Record<string, number> = { '90%': 0.007, '95%': 0.01, '99%': 0.02 };
    for (const [label, critical] of Object.entries(lmer.maxt_mc.crit)) {
      const level = Number(label.replace('%', '')) / 100;
      const found = maxTQuantile(draws, pairs, level).describe(Number.POSITIVE_INFINITY);
      const error = Math.hypot(errors[label] as number, found.monteCarloError);
      expect(Math.abs(found.value - critical)).toBeLessThan(3 * error);
    }
  });
});

describe('the common scale of a multivariate t', () => {
  it('has mean square 1', () => {
    const draws = drawCorrelated(Float64Array.of(1), 1, 20_000, 3);
    const scales = chiScales(draws, 7);
    const meanSquare = scales.reduce((sum, s) => sum + s * s, 0) / scales.length;
    expect(meanSquare).toBeCloseTo(1, 2);
    expect(chiScales(draws, Number.POSITIVE_INFINITY).every((s) => s === 1)).toBe(true);
  });
});

describe("Holm's adjustment", () => {
  it('is that of R p.adjust', () => {
    // R: p.adjust(c(0.01, 0.04, 0.03, 0.005), "holm") is 0.03 0.06 0.06 0.02 (worked by hand).
    const found = holm([0.01, 0.04, 0.03, 0.005]);
    [0.03, 0.06, 0.06, 0.02].forEach((wanted, i) => {
      expect(found[i]).toBeCloseTo(wanted, 12);
    });
    expect(holm([0.9, 0.8])).toEqual([1, 1]);
  });

  it('agrees with R on 780 differences', () => {
    interface Row {
      p: number;
      p_holm: number;
    }
    const pairs = readResult<{ pairs: Row[] }>('synth2k_lmer').pairs;
    holm(pairs.map((p) => p.p)).forEach((found, i) => {
      expect(Math.abs(found - (pairs[i] as Row).p_holm)).toBeLessThanOrEqual(1e-9 * (pairs[i] as Row).p_holm);
    });
  });
});

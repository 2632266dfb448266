import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawCorrelated } from '@/lib/stats/maxT';
import { chancesOfLowest, rankSets } from '@/lib/stats/ranks';
import { readResult } from './reference';

interface Lmer {
  fixef: { est: number }[];
  vcov: number[][];
  pairs: { i: number; j: number; est: number; se: number }[];
  maxt_mc: { crit: Record<string, number> };
  rank_lo: number[];
  rank_hi: number[];
  p_best_mc: number[];
}
const lmer = readResult<Lmer>('synth2k_lmer');
const items = lmer.fixef.map((_, i) => i);
const pairs = lmer.pairs.map((p) => ({ a: p.i - 1, b: p.j - 1, difference: p.est, se: p.se }));

describe('rank sets of 40 setups against R', { timeout: 30_000 }, () => {
  it('are the same at R’s own critical value', () => {
    const critical = lmer.maxt_mc.crit['95%'] as number;
    const sets = rankSets(
      items,
      pairs.filter((p) => Math.abs(p.difference) > critical * p.se),
    );
    expect(items.map((i) => sets.get(i)?.lower)).toEqual(lmer.rank_lo);
    expect(items.map((i) => sets.get(i)?.upper)).toEqual(lmer.rank_hi);
  });

  it('has the simulated chance of being lowest', () => {
    const draws = drawCorrelated(Float64Array.from(lmer.vcov.flat()), 40, 20_000, 2);
    const chances = chancesOfLowest(
      items,
      lmer.fixef.map((f) => f.est),
      draws,
      Number.POSITIVE_INFINITY,
      () => true,
    );
    expect(chances.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 12);
    // Both are simulations of 20 000 draws.
    chances.forEach((p, i) => {
      expect(Math.abs(p - (lmer.p_best_mc[i] as number))).toBeLessThan(1e-3);
    });
  });
});

describe('chance of being lowest', () => {
  it('is Φ(d/σ) for two', () => {
    const draws = drawCorrelated(Float64Array.of(1, 0, 0, 1), 2, 20_000, 4);
    // d = 1, σ = √2: Φ(0.70711) = 0.76025 (normal table).
    const [first] = chancesOfLowest([0, 1], [0, 1], draws, Number.POSITIVE_INFINITY, () => true);
    expect(first).toBeCloseTo(0.76025, 2);
  });

  it('never meets a pair that is refused', () => {
    const identity = Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1);
    const draws = drawCorrelated(identity, 3, 20_000, 5);
    // 0 and 1 are refused; both meet 2. Each pair alone is the table's Φ(1/√2); 2 must beat both.
    const mayCompare = (a: number, b: number) => a === 2 || b === 2;
    const [zero, one, two] = chancesOfLowest(
      [0, 1, 2],
      [0, 0, 1],
      draws,
      Number.POSITIVE_INFINITY,
      mayCompare,
    );
    expect(zero).toBeCloseTo(0.76025, 2);
    expect(one).toBeCloseTo(0.76025, 2);
    expect(two as number).toBeLessThan(1 - 0.76025);
  });
});

describe('rank sets in general', () => {
  it('hold the true order whenever no rejection is false', () => {
    const effects = fc.uniqueArray(fc.double({ min: 0, max: 1, noNaN: true }), {
      minLength: 2,
      maxLength: 8,
    });
    fc.assert(
      fc.property(effects, fc.infiniteStream(fc.boolean()), (values, coin) => {
        const all = values.flatMap((x, a) =>
          values.slice(a + 1).map((y, k) => ({ a, b: a + 1 + k, difference: x - y, se: 1 })),
        );
        const sets = rankSets(
          [...values.keys()],
          all.filter(() => coin.next().value as boolean),
        );
        values.forEach((x, i) => {
          const rank = 1 + values.filter((y) => y < x).length;
          const set = sets.get(i) as { lower: number; upper: number };
          expect(set.lower).toBeLessThanOrEqual(rank);
          expect(set.upper).toBeGreaterThanOrEqual(rank);
        });
      }),
      { seed: 9 },
    );
  });
});

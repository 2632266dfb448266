import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupLetter, inseparableGroups } from '@/lib/stats/inseparable';
import { drawCorrelated } from '@/lib/stats/maxT';
import { chancesOfLowest, marginalRankSet, rankSets, stepDownRejections } from '@/lib/stats/ranks';
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
    const rejected = pairs.map((p) => Math.abs(p.difference) > critical * p.se);
    const sets = rankSets(items, pairs, rejected);
    expect(items.map((i) => sets.get(i)?.lower)).toEqual(lmer.rank_lo);
    expect(items.map((i) => sets.get(i)?.upper)).toEqual(lmer.rank_hi);
  });

  it('narrow by stepping down and never widen', () => {
    const draws = drawCorrelated(Float64Array.from(lmer.vcov.flat()), 40, 4000, 1);
    const stepped = rankSets(items, pairs, stepDownRejections(draws, pairs, Number.POSITIVE_INFINITY, 0.95));
    for (const i of items) {
      const set = stepped.get(i) as { lower: number; upper: number };
      // One place of slack: the two critical values differ by their Monte Carlo errors.
      expect(set.lower).toBeGreaterThanOrEqual((lmer.rank_lo[i] as number) - 1);
      expect(set.upper).toBeLessThanOrEqual((lmer.rank_hi[i] as number) + 1);
      const own = marginalRankSet(i, items, draws, pairs, Number.POSITIVE_INFINITY, 0.95);
      expect(own.upper - own.lower).toBeLessThanOrEqual(set.upper - set.lower);
    }
  });

  it('has the simulated chance of being lowest', () => {
    const draws = drawCorrelated(Float64Array.from(lmer.vcov.flat()), 40, 20_000, 2);
    const chances = chancesOfLowest(
      items,
      lmer.fixef.map((f) => f.est),
      draws,
      Number.POSITIVE_INFINITY,
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
    const [first] = chancesOfLowest([0, 1], [0, 1], draws, Number.POSITIVE_INFINITY);
    expect(first).toBeCloseTo(0.76025, 2);
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
        const rejected = all.map(() => coin.next().value as boolean);
        const sets = rankSets([...values.keys()], all, rejected);
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

describe('inseparable groups', () => {
  it('are the maximal cliques', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 21, maxLength: 21 }), (edges) => {
        const n = 7;
        const near = (i: number, j: number) => {
          const [a, b] = i < j ? [i, j] : [j, i];
          return edges[a * n - (a * (a + 1)) / 2 + b - a - 1] as boolean;
        };
        // Brute force over all subsets of seven items.
        const cliques: number[][] = [];
        for (let mask = 1; mask < 1 << n; mask++) {
          const set = Array.from({ length: n }, (_, i) => i).filter((i) => mask & (1 << i));
          const whole = set.every((i) => set.every((j) => i === j || near(i, j)));
          const maximal = Array.from({ length: n }, (_, i) => i).every(
            (k) => set.includes(k) || !set.every((i) => near(i, k)),
          );
          if (whole && maximal) cliques.push(set);
        }
        const found = inseparableGroups(n, near);
        expect(new Set(found?.map(String))).toEqual(new Set(cliques.map(String)));
        expect(found?.length).toBe(cliques.length);
      }),
      { seed: 10 },
    );
  });

  it('gives up on a graph with too many', () => {
    // Items in triples, inseparable across triples only: 3^7 maximal groups (Moon & Moser 1965).
    expect(inseparableGroups(21, (i, j) => Math.floor(i / 3) !== Math.floor(j / 3))).toBeNull();
  });

  it('letters go on after z', () => {
    expect([0, 25, 26, 51, 52].map(groupLetter)).toEqual(['a', 'z', 'aa', 'az', 'ba']);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ImpossibleDesign,
  planAbba,
  planWilliams,
  planWithReference,
  williamsSquare,
} from '@/lib/stats/design';

describe('ABBA', () => {
  it('cancels a linear drift within every session', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 1, max: 3 }),
        (seed, n, q) => {
          const plan = planAbba(['a', 'b'], n, seed, q);
          expect(plan).toHaveLength(n);
          for (const { setups } of plan) {
            expect(setups).toHaveLength(4 * q);
            const place = (name: string) => setups.reduce((sum, s, i) => sum + (s === name ? i : 0), 0);
            expect(place('a')).toBe(place('b'));
          }
        },
      ),
      { seed: 1 },
    );
  });

  it('alternates which setup comes first', () => {
    const plan = planAbba(['a', 'b'], 4, 9);
    expect(new Set(plan.map((p) => p.setups[0])).size).toBe(2);
    expect(plan[0]?.setups[0]).toBe(plan[2]?.setups[0]);
  });
});

describe('Williams square', () => {
  it.each([2, 3, 4, 5, 6, 7, 9, 10])('is balanced for position and for what came before, m = %i', (m) => {
    const rows = williamsSquare(m);
    expect(rows).toHaveLength(m % 2 === 0 ? m : 2 * m);
    const places = new Map<string, number>();
    const followers = new Map<string, number>();
    for (const row of rows) {
      expect(new Set(row).size).toBe(m);
      row.forEach((k, i) => {
        places.set(`${k}@${i}`, (places.get(`${k}@${i}`) ?? 0) + 1);
        if (i > 0) followers.set(`${row[i - 1]}>${k}`, (followers.get(`${row[i - 1]}>${k}`) ?? 0) + 1);
      });
    }
    // Williams (1949): each setup in each place equally often, each ordered pair adjacent equally often.
    expect(places.size).toBe(m * m);
    expect(new Set(places.values()).size).toBe(1);
    expect(followers.size).toBe(m * (m - 1));
    expect(new Set(followers.values()).size).toBe(1);
  });

  it('names the setups, repeats as asked and keeps the order of a seed', () => {
    const plan = planWilliams(['a', 'b', 'c', 'd'], 6, 4);
    expect(plan.map((p) => p.session)).toEqual([1, 2, 3, 4, 5, 6]);
    for (const { setups } of plan) expect([...setups].sort()).toEqual(['a', 'b', 'c', 'd']);
    expect(planWilliams(['a', 'b', 'c', 'd'], 6, 4)).toEqual(plan);
    expect(planWilliams(['a', 'b', 'c', 'd'], 6, 5)).not.toEqual(plan);
    expect(() => williamsSquare(1)).toThrow(ImpossibleDesign);
  });
});

describe('incomplete blocks with a reference', () => {
  it('holds the reference in every session, no setup twice, counts within one', () => {
    fc.assert(
      fc.property(
        fc.integer(),
        fc.integer({ min: 1, max: 7 }),
        fc.integer({ min: 2, max: 5 }),
        fc.integer({ min: 1, max: 9 }),
        (seed, others, capacity, sessions) => {
          const names = Array.from({ length: others }, (_, i) => `s${i}`);
          const plan = planWithReference('ref', names, capacity, sessions, seed);
          expect(plan).toHaveLength(sessions);
          const counts = new Map(names.map((name) => [name, 0]));
          for (const { setups } of plan) {
            expect(setups).toContain('ref');
            expect(new Set(setups).size).toBe(setups.length);
            expect(setups).toHaveLength(Math.min(capacity, others + 1));
            for (const s of setups) if (s !== 'ref') counts.set(s, (counts.get(s) as number) + 1);
          }
          expect(Math.max(...counts.values()) - Math.min(...counts.values())).toBeLessThanOrEqual(1);
        },
      ),
      { seed: 2, numRuns: 200 },
    );
  });

  it('says why a plan is impossible', () => {
    expect(() => planWithReference('ref', ['a'], 1, 2, 1)).toThrow(ImpossibleDesign);
    expect(() => planWithReference('ref', [], 3, 2, 1)).toThrow(ImpossibleDesign);
  });
});

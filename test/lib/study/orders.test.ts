import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planInTurn, williamsSquare } from '@/lib/stats/design';
import { studyOrders } from '@/lib/study/orders';

const letters = (rows: readonly number[][]) =>
  rows.map((row) => row.map((k) => String.fromCharCode(65 + k)).join(' '));

describe('orders against published designs', () => {
  it('is Williams’ square of four', () => {
    // Williams E. J. (1949), Aust. J. Scientific Research A 2, 149; as in Jones B., Kenward M. G., Design and Analysis
    // of Cross-Over Trials, ch. 4, treatments 1 2 4 3 / 2 3 1 4 / 3 4 2 1 / 4 1 3 2 with letters for numbers (from
    // memory).
    expect(letters(williamsSquare(4))).toEqual(['A B D C', 'B C A D', 'C D B A', 'D A C B']);
  });

  it('is the pair of squares of three', () => {
    // The same source: A B C / B C A / C A B by the rule 0, 1, m − 1 …, and their mirror images.
    expect(letters(williamsSquare(3))).toEqual(['A B C', 'B C A', 'C A B', 'C B A', 'A C B', 'B A C']);
  });

  it('is A B A and B A B for days of three', () => {
    // Two-treatment three-period design A B A / B A B: Jones and Kenward, ch. 3 (from memory).
    const days = planInTurn(['a', 'b'], 3, 4, 7).map(({ setups }) => setups.join(''));
    expect(new Set(days)).toEqual(new Set(['aba', 'bab']));
    expect(days[0]).toBe(days[2]);
  });
});

const asked = fc.record({
  others: fc.integer({ min: 1, max: 6 }),
  runsADay: fc.integer({ min: 2, max: 12 }),
  days: fc.integer({ min: 1, max: 12 }),
  seed: fc.integer({ min: 0, max: 2 ** 31 - 1 }),
});

describe('orders for what a day holds', () => {
  it('are balanced, and known from the seed', () => {
    fc.assert(
      fc.property(asked, ({ others, runsADay, days, seed }) => {
        const otherIds = Array.from({ length: others }, (_, i) => `s${i}`);
        const question = { baselineId: 'base', otherIds, runsADay, days, seed };
        const orders = studyOrders(question);
        expect(studyOrders(question)).toEqual(orders);
        expect(orders.days).toHaveLength(days);
        const counts = new Map(['base', ...otherIds].map((id) => [id, 0]));
        for (const day of orders.days) {
          expect(day.length).toBeLessThanOrEqual(runsADay);
          // every day says something of the difference from the baseline
          expect(day).toContain('base');
          expect(new Set(day).size).toBeGreaterThan(1);
          for (const id of day) counts.set(id, (counts.get(id) as number) + 1);
        }
        const ofOthers = otherIds.map((id) => counts.get(id) as number);
        expect(Math.max(...ofOthers) - Math.min(...ofOthers)).toBeLessThanOrEqual(1);
        if (orders.kind !== 'shared reference')
          expect(Math.abs((counts.get('base') as number) - (ofOthers[0] as number))).toBeLessThanOrEqual(1);
      }),
      { seed: 11, numRuns: 400 },
    );
  });

  it('cancel a linear drift within the day, but for a day of two and for squares', () => {
    fc.assert(
      fc.property(asked, ({ others, runsADay, days, seed }) => {
        const otherIds = Array.from({ length: others }, (_, i) => `s${i}`);
        const { kind, days: orders } = studyOrders({ baselineId: 'base', otherIds, runsADay, days, seed });
        if (kind === 'Williams square' || kind === 'shared reference' || orders[0]?.length === 2) return;
        for (const order of orders) {
          const middle = (order.length - 1) / 2;
          for (const id of new Set(order)) {
            const places = order.flatMap((one, at) => (one === id ? [at] : []));
            expect(places.reduce((sum, at) => sum + at, 0) / places.length).toBeCloseTo(middle, 12);
          }
        }
      }),
      { seed: 12, numRuns: 400 },
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proposedSetup } from '@/lib/run/setupOrder';

/** What comes of taking each proposal. */
function followed(first: readonly string[], runs: number): string[] {
  const driven = [...first];
  while (driven.length < runs) driven.push(proposedSetup(driven)?.setupId ?? '');
  return driven;
}

describe('the setup of the next run', () => {
  it('is open until there are two', () => {
    expect(proposedSetup([])).toBeUndefined();
    expect(proposedSetup(['a', 'a'])).toBeUndefined();
  });

  it('goes A B B A, again and again', () => {
    expect(followed(['a', 'b'], 8).join('')).toBe('abbaabba');
    expect(proposedSetup(['a', 'b'])).toEqual({ setupId: 'b', order: 'abba' });
  });

  it('cancels a drift that is linear in the order of the runs, over each four', () => {
    const order = followed(['a', 'b'], 4);
    const mean = (setup: string) =>
      order.reduce((sum, one, index) => sum + (one === setup ? index : 0), 0) / 2;
    expect(mean('a')).toBe(mean('b'));
  });

  it('evens out a day that went another way', () => {
    expect(proposedSetup(['a', 'a', 'b'])?.setupId).toBe('b');
    expect(proposedSetup(['a', 'b', 'a'])?.setupId).toBe('b');
  });

  it('goes round in turn with more than two', () => {
    expect(followed(['a', 'b', 'c'], 7).join('')).toBe('abcabca');
    expect(proposedSetup(['a', 'b', 'c'])?.order).toBe('rotation');
  });

  it('never lets two setups drift apart by more than the day already has them', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom('a', 'b', 'c'), { minLength: 2, maxLength: 9 }), (driven) => {
        const apart = (runs: readonly string[]) => {
          const counts = [...new Set(driven)].map((one) => runs.filter((run) => run === one).length);
          return Math.max(...counts) - Math.min(...counts);
        };
        const next = proposedSetup(driven);
        if (next === undefined) return;
        expect(apart([...driven, next.setupId])).toBeLessThanOrEqual(Math.max(1, apart(driven)));
      }),
    );
  });
});

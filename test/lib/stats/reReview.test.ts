import { randomUUID } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { agreementTable, isDrawn, RE_REVIEW_SHARE } from '@/lib/stats/reReview';

describe('the draw of decisions', () => {
  it('takes about its share of ids, the same ones each time', () => {
    const ids = Array.from({ length: 5000 }, () => randomUUID());
    const drawn = ids.filter(isDrawn);
    // six standard deviations of a binomial count
    const spread = 6 * Math.sqrt(ids.length * RE_REVIEW_SHARE * (1 - RE_REVIEW_SHARE));
    expect(Math.abs(drawn.length - ids.length * RE_REVIEW_SHARE)).toBeLessThan(spread);
    expect(ids.filter(isDrawn)).toEqual(drawn);
  });
});

describe('the table of agreement', () => {
  it('has the first reader by row and the second by column', () => {
    expect(
      agreementTable([
        { first: 'approve', second: 'reject', count: 2 },
        { first: 'reject', second: 'approve', count: 3 },
        { first: 'approve', second: 'approve', count: 5 },
      ]),
    ).toEqual([
      [5, 0, 2],
      [0, 0, 0],
      [3, 0, 0],
    ]);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findContrast, orientContrast, percentOf } from '@/lib/stats/orientedContrast';
import type { StoredContrast } from '@/lib/store/publicPages';

const stored: StoredContrast = {
  setupAId: 'a',
  setupBId: 'b',
  kind: 'session',
  chainLength: 1,
  differenceLog: -0.03,
  logSe: 0.01,
  dof: 8,
  lowLog: -0.053,
  highLog: -0.007,
  simultaneousLowLog: -0.06,
  simultaneousHighLog: 0.001,
  modelLowLog: -0.056,
  modelHighLog: -0.003,
  word: 'probable',
  restsOn: [],
  otherWays: undefined,
  sharedULog: 0.002,
  reason: null,
};

describe('a stored difference, A less B', () => {
  it('stands as it is when B is the baseline', () => {
    expect(orientContrast(stored, 'b', 'a')).toMatchObject({
      difference: -0.03,
      pointwise: [-0.053, -0.007],
      simultaneous: [-0.06, 0.001],
    });
  });

  it('turns its sign and changes the places of its ends when A is the baseline', () => {
    expect(orientContrast(stored, 'a', 'b')).toMatchObject({
      difference: 0.03,
      pointwise: [0.007, 0.053],
      simultaneous: [-0.001, 0.06],
      ofModel: [0.003, 0.056],
      word: 'probable',
    });
  });

  it('is of no use for another pair', () => {
    expect(orientContrast(stored, 'a', 'c')).toBeUndefined();
    expect(findContrast([stored], 'c', 'a')).toBeUndefined();
    expect(findContrast([stored], 'a', 'b')?.difference).toBe(0.03);
  });

  it('keeps nothing where there is nothing', () => {
    const refused = { ...stored, differenceLog: null, lowLog: null, highLog: null, simultaneousLowLog: null };
    expect(orientContrast(refused, 'a', 'b')).toMatchObject({
      difference: null,
      pointwise: null,
      simultaneous: null,
    });
  });

  it('says the same from both sides: the two ratios multiply to one', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.7, max: 0.7, noNaN: true }), (differenceLog) => {
        const row = { ...stored, differenceLog };
        const one = percentOf(orientContrast(row, 'b', 'a')?.difference ?? Number.NaN);
        const other = percentOf(orientContrast(row, 'a', 'b')?.difference ?? Number.NaN);
        expect((1 + one / 100) * (1 + other / 100)).toBeCloseTo(1, 12);
      }),
    );
  });
});

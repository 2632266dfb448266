import { describe, expect, it } from 'vitest';
import { differenceText } from '@/lib/answers/differenceText';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';

const plain: Display = DEFAULT_PREFERENCES;
const further: Display = { ...plain, consumption: 'mi/kWh', mark: 'comma' };

const difference = {
  percent: -3.14,
  pointwise: [-4.4, -1.9] as [number, number],
  ofModel: [-4.6, -1.7] as [number, number],
  simultaneous: [-5, -1.25] as [number, number],
  word: 'settled' as 'settled' | 'probable' | null,
};

describe('a difference in figures', () => {
  it('turns sign, ends and mark with a unit of distance per energy', () => {
    // 1/0.9686 = 1.03242, 1/0.9875 = 1.01266, 1/0.95 = 1.05263
    expect(differenceText(difference, further)).toBe('+3,2 % (+1,3 to +5,3)');
  });

  it('says it to the place of its interval', () => {
    expect(differenceText({ ...difference, simultaneous: [-16, 9] }, plain)).toBe('−3 % (−16 to +9)');
    expect(differenceText({ ...difference, simultaneous: [-3.3, -2.98] }, plain)).toBe(
      '−3.14 % (−3.30 to −2.98)',
    );
  });

  it('quotes the interval that earns the word', () => {
    expect(differenceText({ ...difference, word: 'probable' }, plain)).toBe('−3.1 % (−4.6 to −1.7)');
  });

  it('says what it has where there is no interval or no difference', () => {
    const without = { percent: -5.25, pointwise: null, ofModel: null, simultaneous: null, word: null };
    expect(differenceText(without, plain)).toBe('−5.3 %');
    expect(differenceText({ ...without, percent: null }, plain)).toBe('not compared');
  });
});

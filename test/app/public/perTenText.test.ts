import { describe, expect, it } from 'vitest';
import { perTenText } from '@/app/(public)/factors/words';
import type { SpeedAnswer } from '@/lib/registry/factors/speeds';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { setup } from './rankedSample';

/** Twice 1.1 over 20 km/h: a tenth for each ten. */
const answer = {
  ...setup.against,
  percent: 21,
  pointwise: [18.81, 23.21],
  ofModel: null,
  simultaneous: [16.64, 25.44],
  word: 'settled',
  perTenKmhPercent: 10,
} as SpeedAnswer;

describe('what ten kilometres an hour cost', () => {
  it('has the interval that earns the word, brought to the ten with the number', () => {
    expect(perTenText(answer, DEFAULT_PREFERENCES)).toBe(
      'That is 10.0 % more (8.0 to 12.0) for each 10\u202Fkm/h.',
    );
    expect(perTenText({ ...answer, word: 'leaning' }, DEFAULT_PREFERENCES)).toBe(
      'That is perhaps 10.0 % more (9.0 to 11.0) for each 10\u202Fkm/h.',
    );
  });

  it('is nothing where the answer has no direction', () => {
    expect(perTenText({ ...answer, word: 'undecided' }, DEFAULT_PREFERENCES)).toBe('');
  });
});

import { describe, expect, it } from 'vitest';
import { guessesSentence } from '@/lib/answers/guessesText';
import { countGuessed } from '@/lib/study/guess';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';

const perKwh: Display = { ...DEFAULT_PREFERENCES, consumption: 'km/kWh' };

describe('what readers had expected', () => {
  it('is counted by direction and by the interval that came out, its ends included', () => {
    const counts = countGuessed([-4, -2, -1, 0, 3], [-2, -0.5]);
    expect(counts).toEqual({ total: 5, less: 3, none: 1, more: 1, within: 2 });
    expect(guessesSentence(counts, '−2.0 to −0.5', DEFAULT_PREFERENCES)).toBe(
      'Of 5 guesses 3 expected it to use less, 1 expected it to use more and 1 expected no difference. 2 lie within the interval that came out (−2.0 to −0.5 %).',
    );
    expect(guessesSentence(counts, '+0.5 to +2.0', perKwh)).toMatch(
      /^Of 5 guesses 3 expected it to go further/,
    );
  });

  it('says nothing of an interval where there is none, and of guesses where nobody made one', () => {
    expect(guessesSentence(countGuessed([2], null), null, DEFAULT_PREFERENCES)).toBe(
      'Of 1 guess 1 expected it to use more.',
    );
    expect(guessesSentence(countGuessed([], [-1, 1]), '−1 to +1', DEFAULT_PREFERENCES)).toBe(
      'Nobody guessed.',
    );
  });
});

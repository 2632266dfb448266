import { describe, expect, it } from 'vitest';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { showPlain } from '@/lib/units/show';

describe('a number that decided', () => {
  it.each([
    [1.5, '1.5'],
    [0.01, '0.01'],
    [22.8234, '22.82'],
    [0, '0'],
    [3e-31, 'below 0.000001'],
  ])('%s is written %s', (value, text) => {
    expect(showPlain(value, DEFAULT_PREFERENCES)).toBe(text);
  });
});

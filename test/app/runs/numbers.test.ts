import { describe, expect, it } from 'vitest';
import { plainNumber } from '@/app/runDossier/numbers';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';

describe('a number that decided', () => {
  it.each([
    [1.5, '1.5'],
    [0.01, '0.01'],
    [22.8234, '22.82'],
    [0, '0'],
    [3e-31, 'below 0.000001'],
  ])('%s is written %s', (value, text) => {
    expect(plainNumber(value, DEFAULT_PREFERENCES)).toBe(text);
  });
});

import { describe, expect, it } from 'vitest';
import { unbroken } from '@/app/ui/unbroken';

describe('words of a page', () => {
  it.each([
    ['95 % of runs at 110 km/h and 20 °C', '95\u202f% of runs at 110\u202fkm/h and 20\u202f°C'],
    ['13.6 kWh/100 km', '13.6\u202fkWh/100\u202fkm'],
    ['Roof box 400 L', 'Roof box 400\u202fL'],
    ['3 models, 12 hours, 4 min, 2 m', '3 models, 12 hours, 4\u202fmin, 2\u202fm'],
  ])('keep a number beside its unit: %s', (words, kept) => {
    expect(unbroken(words)).toBe(kept);
  });

  it('do so where the number is put into a sentence', () => {
    expect(unbroken(['At ', 95, ' % of ', '3', ' models'])).toEqual([
      'At ',
      95,
      '\u202f% of ',
      '3',
      ' models',
    ]);
  });
});

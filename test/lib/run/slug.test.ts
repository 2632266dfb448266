import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nameKey, slugOf } from '@/lib/run/slug';

describe('what makes two names the same', () => {
  it.each([
    ['Löw', 'low'],
    ['Bed  cover – off', 'bed cover off'],
    ['0,2 bar', '0.2 BAR'],
    ['Minus 5 mm', '−5 mm'],
    ['Roof-box', 'roof box'],
  ])('%s is %s', (a, b) => expect(nameKey(a)).toBe(nameKey(b)));

  it.each([
    ['+0.2 bar', '−0.2 bar'],
    ['+0.2 bar', '-0.2 bar'],
    ['Placard (-0.2 bar)', 'Placard (0.2 bar)'],
    ['Eco', 'Eco+'],
    ['低い', '高い'],
    ['Низкий', 'Высокий'],
    ['?', '!'],
    ['1.5 kg', '15 kg'],
  ])('%s is not %s', (a, b) => expect(nameKey(a)).not.toBe(nameKey(b)));

  it('is the slug where a name is letters and digits alone, as stored keys are', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[A-Za-z][A-Za-z0-9]{0,8}( [A-Za-z0-9]{1,8}){0,4}$/), (name) => {
        expect(nameKey(name)).toBe(slugOf(name));
      }),
    );
  });

  it('is never empty and holds nothing that parts keys of levels', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 }), (name) => {
        expect(nameKey(name)).toMatch(/^[\p{L}\p{N}\p{M}-]+$/u);
      }),
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parsePlace, placeText } from '@/lib/run/runPlace';

describe('a place in a list of runs', () => {
  it('comes back from the address it was written to', () => {
    const places = fc.record({
      date: fc
        .date({ min: new Date('1900-01-01'), max: new Date('2999-12-31'), noInvalidDate: true })
        .map((date) => date.toISOString().slice(0, 10)),
      number: fc.integer({ min: 0, max: 2_147_483_647 }),
    });
    fc.assert(
      fc.property(places, (place) => {
        expect(parsePlace(placeText(place))).toEqual(place);
      }),
    );
  });

  it.each([
    undefined,
    '',
    '2026-02-30.1',
    '2026-13-01.1',
    '0000-00-00.1',
    '2026-05-12',
    '2026-05-12.2147483648',
    '2026-05-12.-1',
    '2026-05-12.1\u0000',
    '__proto__',
  ])('%j is none', (text) => {
    expect(parsePlace(text)).toBeUndefined();
  });
});

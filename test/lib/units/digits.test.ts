import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placeForDigits, placeForInterval, placeForUncertainty } from '@/lib/units/digits';

const anUncertainty = fc
  .tuple(fc.double({ min: 1, max: 9.999, noNaN: true }), fc.integer({ min: -6, max: 6 }))
  .map(([mantissa, exponent]) => mantissa * 10 ** exponent);
const rounded = (value: number, place: number) => Math.round(value * 10 ** place) / 10 ** place;

describe('the place of an uncertainty', () => {
  it('has two digits after a 1 or 2 and else one, which GUM 7.2.6 allows both', () => {
    // GUM 7.2.2: u = 0.35 mg would have two digits there; 7.2.6 says that at most two suffice
    expect(placeForUncertainty(0.00035)).toBe(4);
    // GUM 7.2.6: 10.057 62 Ω with u = 27 mΩ is rounded to 10.058 Ω
    expect(placeForUncertainty(0.027)).toBe(3);
    expect(placeForUncertainty(0.67)).toBe(1);
    expect(placeForUncertainty(240)).toBe(-1);
    expect(placeForUncertainty(4.4)).toBe(0);
  });

  it('counts after rounding: 0.0996 is 0.10 and 0.0296 is 0.03', () => {
    expect(placeForUncertainty(0.0996)).toBe(2);
    expect(placeForUncertainty(0.0296)).toBe(2);
  });

  it('refuses what is no uncertainty', () => {
    for (const bad of [0, -1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => placeForUncertainty(bad)).toThrow(RangeError);
    }
  });

  it('keeps two digits at most', () => {
    fc.assert(
      fc.property(anUncertainty, (u) => {
        const digits = placeForUncertainty(u) + 1 + Math.floor(Math.log10(u * (1 + 1e-9)));
        // one more where rounding went up a decade
        expect(digits).toBeGreaterThanOrEqual(0);
        expect(digits).toBeLessThanOrEqual(2);
      }),
    );
  });

  it('moves a value by at most a tenth of the half-width of its interval', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e7, max: 1e7, noNaN: true }), anUncertainty, (value, u) => {
        const moved = Math.abs(rounded(value, placeForUncertainty(u)) - value);
        expect(moved).toBeLessThanOrEqual(0.1 * 1.96 * u + 1e-8);
        const place = placeForInterval(value - 2 * u, value + 2 * u);
        expect(Math.abs(rounded(value, place) - value)).toBeLessThanOrEqual(0.1 * 2 * u + 1e-8);
      }),
    );
  });
});

describe('the place of an interval', () => {
  it('is that of a quarter of its width, whichever end comes first', () => {
    expect(placeForInterval(17.3, 18.6)).toBe(1);
    expect(placeForInterval(18.6, 17.3)).toBe(1);
    expect(placeForInterval(100, 500)).toBe(-1);
  });

  it('leaves four digits where there is no width', () => {
    expect(placeForInterval(18.17, 18.17)).toBe(2);
    expect(placeForInterval(0, 0)).toBe(0);
  });
});

describe('the place of so many digits', () => {
  it('counts after rounding', () => {
    expect(placeForDigits(18.171, 3)).toBe(1);
    expect(placeForDigits(9.996, 3)).toBe(1);
    expect(placeForDigits(-0.00123, 2)).toBe(4);
    expect(placeForDigits(1234, 2)).toBe(-2);
    expect(placeForDigits(0, 3)).toBe(0);
  });
});

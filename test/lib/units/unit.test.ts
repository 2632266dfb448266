import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CANONICAL_UNITS,
  dimensionOf,
  fromCanonical,
  isUnitCode,
  spreadFromCanonical,
  spreadToCanonical,
  toCanonical,
  UNITS,
  type UnitCode,
  UnitDomainError,
  unitsOf,
} from '@/lib/units/unit';

const codes = Object.keys(UNITS) as UnitCode[];

describe('exact factors, NIST SP 811 (2008), Appendix B.8', () => {
  // [shown, unit, canonical]; SP 811 prints exact factors in bold and the others to seven digits
  it.each<[number, UnitCode, number]>([
    [1, 'mi', 1609.344],
    [1, 'ft', 0.3048],
    [1, 'mph', 0.44704],
    [1, 'km/h', 0.2777777777777778],
    [1, 'kn', 0.5144444444444445],
    [1, 'lb', 0.45359237],
    [1, 'bar', 1e5],
    [32, 'degF', 0],
    [212, 'degF', 100],
    [-40, 'degF', -40],
  ])('%d %s', (shown, unit, canonical) => {
    expect(toCanonical(shown, unit)).toBeCloseTo(canonical, 12);
  });

  it('pound-force per square inch is 6.894 757 E+03 Pa and an inch of mercury 3.386 389 E+03 Pa', () => {
    expect(toCanonical(1, 'psi')).toBeCloseTo(6894.757, 3);
    expect(toCanonical(1, 'inHg')).toBeCloseTo(3386.389, 3);
  });

  it('29.92 inHg is the standard atmosphere to the last digit of an altimeter (ICAO Doc 7488)', () => {
    expect(toCanonical(29.92, 'inHg') / 100).toBeCloseTo(1013.25, 1);
  });
});

describe('consumption', () => {
  it('knows distance per energy as the reciprocal', () => {
    expect(toCanonical(5, 'km/kWh')).toBe(200);
    // 1 mi/kWh = 1000 Wh / 1.609344 km, from the exact mile
    expect(toCanonical(1, 'mi/kWh')).toBeCloseTo(621.371192237334, 10);
    expect(toCanonical(20, 'kWh/100km')).toBe(200);
    expect(toCanonical(321.8688, 'Wh/mi')).toBeCloseTo(200, 12);
    expect(toCanonical(32.18688, 'kWh/100mi')).toBeCloseTo(200, 12);
  });

  it('66.8 mi on 32.9 kWh shows 2.03 mi/kWh, on 30.9 kWh 2.16 and that is 6.4 % more (common practice, no source)', () => {
    const shown = (kWh: number) =>
      fromCanonical(toCanonical(kWh, 'kWh') / (toCanonical(66.8, 'mi') / 1000), 'mi/kWh').toFixed(2);
    expect(shown(32.9)).toBe('2.03');
    expect(shown(30.9)).toBe('2.16');
    expect(((2.16 / 2.03 - 1) * 100).toFixed(1)).toBe('6.4');
  });

  it('refuses a distance per energy of zero or less', () => {
    expect(() => toCanonical(0, 'mi/kWh')).toThrow(UnitDomainError);
    expect(() => fromCanonical(-1, 'km/kWh')).toThrow(UnitDomainError);
  });
});

describe('every unit', () => {
  it('round-trips through its canonical unit', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...codes),
        fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
        (unit, shown) => {
          const back = fromCanonical(toCanonical(shown, unit), unit);
          expect(Math.abs(back - shown)).toBeLessThanOrEqual(1e-12 * Math.max(shown, 100));
        },
      ),
    );
  });

  it('is monotonic: up in a plain unit, down in a reciprocal one', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...codes),
        fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
        (unit, shown, more) => {
          const rise = toCanonical(shown + more, unit) - toCanonical(shown, unit);
          expect(Math.sign(rise)).toBe(unit === 'km/kWh' || unit === 'mi/kWh' ? -1 : 1);
        },
      ),
    );
  });

  it('converts a small spread as it converts a small difference', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...codes),
        fc.double({ min: 0.5, max: 500, noNaN: true }),
        (unit, shown) => {
          const spread = shown * 1e-4;
          const canonical = toCanonical(shown, unit);
          const difference =
            Math.abs(toCanonical(shown + spread, unit) - toCanonical(shown - spread, unit)) / 2;
          expect(spreadToCanonical(spread, unit, shown)).toBeCloseTo(
            difference,
            6 - Math.ceil(Math.log10(difference)),
          );
          if (canonical > 0)
            expect(spreadFromCanonical(difference, unit, canonical) / spread).toBeCloseTo(1, 6);
        },
      ),
    );
  });

  it('belongs to a dimension that lists it, and states a source', () => {
    for (const code of codes) {
      expect(unitsOf(dimensionOf(code))).toContain(code);
      expect(UNITS[code].code).toBe(code);
      expect(UNITS[code].source.length).toBeGreaterThan(10);
    }
    for (const unit of Object.values(CANONICAL_UNITS)) expect(toCanonical(7, unit)).toBe(7);
    expect(toCanonical(100, '%')).toBe(1);
    expect(isUnitCode('mi/kWh')).toBe(true);
    expect(isUnitCode('toString')).toBe(false);
  });
});

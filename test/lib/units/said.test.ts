import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_PREFERENCES, type Display, UNIT_CHOICES } from '@/lib/units/display';
import {
  asJudged,
  inReadersUnit,
  placeSaid,
  type Said,
  type SaidNumber,
  said,
  saidTogether,
  say,
  sayFound,
} from '@/lib/units/said';
import { saidSchema } from '@/lib/units/saidSchema';

const plain: Display = DEFAULT_PREFERENCES;
const british: Display = {
  ...DEFAULT_PREFERENCES,
  consumption: 'mi/kWh',
  distance: 'mi',
  height: 'ft',
  wind: 'mph',
  temperature: 'degF',
  tyrePressure: 'psi',
  mass: 'lb',
  mark: 'comma',
};

const wide = (text: string) => text.replace(/[\u202F\u00A0]/g, ' ');
const wind = (value: number, decimals: number, apart?: number[]): SaidNumber => ({
  value,
  unit: 'm/s',
  decimals,
  ...(apart === undefined ? {} : { apart }),
});

describe('a sentence with its numbers as data', () => {
  const sentence = said`Mean wind was ${wind(6.2, 1, [5, 8])}; up to ${wind(5, 0)} is within the protocol.`;

  it('reads as judged, whatever a reader chose', () => {
    expect(wide(asJudged(sentence))).toBe('Mean wind was 6.2 m/s; up to 5 m/s is within the protocol.');
    expect(say(sentence, plain)).toBe(asJudged(sentence));
  });

  // 6.2 and 5 m/s in mph by NIST SP 811, B.8 (1 mph = 0.447 04 m/s): 13.869 and 11.185.
  it('reads in the reader’s units, with one place for all numbers of a unit', () => {
    expect(wide(say(sentence, british))).toBe(
      'Mean wind was 13,9 mph; up to 11,2 mph is within the protocol.',
    );
  });

  it('says at which place it has a number that stands beside it, too', () => {
    expect(placeSaid(sentence, 6.2, 'm/s', plain)).toBe(1);
    expect(placeSaid(sentence, 5, 'm/s', plain)).toBe(0);
    // in other units all numbers of the sentence share a place
    expect(placeSaid(sentence, 6.2, 'm/s', british)).toBe(1);
    expect(placeSaid(sentence, 5, 'm/s', british)).toBe(1);
    expect(placeSaid(sentence, 5, '', plain)).toBeUndefined();
    expect(placeSaid(sentence, 7, 'm/s', plain)).toBeUndefined();
    expect(placeSaid(undefined, 5, 'm/s', plain)).toBeUndefined();
    const range = said`It is ${{ value: 14_680, to: 14_820, unit: 'kWh', decimals: 2 }}.`;
    expect(placeSaid(range, 14.75, 'kWh', plain)).toBe(2);
  });

  // 20 °C = 68 °F, 3.0 bar = 43.51 psi, 100 kg = 220.46 lb, 12.34 km = 7.668 mi: NIST SP 811, appendix B.
  it.each([
    [{ value: 20, unit: 'degC', decimals: 0 } as const, '68 °F'],
    [{ value: 3e5, unit: 'bar', decimals: 2 } as const, '43,5 psi'],
    [{ value: 100, unit: 'kg', decimals: 0 } as const, '220 lb'],
    [{ value: 12_340, unit: 'km', decimals: 2 } as const, '7,67 mi'],
    [{ value: 0.02, unit: '%', decimals: 0, symbol: 'points' } as const, '2 points'],
    [{ value: 1.5, unit: '', decimals: 1 } as const, '1,5'],
    [{ value: 5000, unit: 'kWh', decimals: 1 } as const, '5,0 kWh'],
  ])('converts %j by the kind of its unit', (number, text) => {
    expect(wide(say([number], british))).toBe(text);
  });

  // 160 and 200 Wh/km are 3.884 and 3.107 mi/kWh: 1609.344 m to the mile.
  it('says a range from its smaller end, also where a unit turns it', () => {
    const range: SaidNumber = { value: 160, to: 200, unit: 'Wh/km', decimals: 1 };
    expect(wide(say([range], plain))).toBe('16.00 to 20.00 kWh/100 km');
    expect(wide(say([range], british))).toMatch(/^3,107 to 3,884 mi\/kWh$/);
    expect(wide(say([{ ...range, value: 0 }], british))).toBe('0,0 to 200,0 Wh/km');
  });

  it('joins whole sentences and leaves empty ones out', () => {
    expect(saidTogether('It rained.', '', said`At ${wind(5, 0)}.`, 'Wait.')).toEqual([
      'It rained. At ',
      wind(5, 0),
      '. Wait.',
    ]);
  });

  it('never makes a number read as a limit that it misses, and keeps the order, in any unit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 400 }).map((tenths) => tenths / 10),
        fc.double({ min: 0.002, max: 3, noNaN: true }),
        fc.boolean(),
        fc.constantFrom(...UNIT_CHOICES.wind),
        (limit, off, isOver, unit) => {
          const value = isOver ? limit + off : Math.max(0.001, limit - off);
          const parts: Said = [wind(value, 3, [limit]), '|', wind(limit, 1)];
          const [shown = '', bound = ''] = say(parts, { ...plain, wind: unit }).split('|');
          const [a, b] = [Number.parseFloat(shown), Number.parseFloat(bound)];
          expect(a).not.toBe(b);
          expect(a > b).toBe(value > limit);
        },
      ),
    );
  });

  it('comes back from the store as it went, and nothing else does', () => {
    const kept = JSON.parse(JSON.stringify(sentence));
    expect(saidSchema.safeParse(kept).data).toEqual(sentence);
    for (const other of [null, 'text', [{ value: 'x' }], [{ value: 1, unit: 'furlong', decimals: 0 }]]) {
      expect(saidSchema.safeParse(other).success).toBe(false);
    }
  });

  it('is said in any unit, whatever numbers were stored', () => {
    const number = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.constantFrom(0, -1, 5e-324, 1e308),
      fc.double({ min: -1e4, max: 1e4, noNaN: true }),
    );
    const stored = fc.record(
      {
        value: number,
        to: number,
        unit: fc.constantFrom('km', 'm', 'km/h', 'm/s', 'degC', 'bar', 'hPa', 'kg', 'Wh/km', ''),
        decimals: fc.nat(20),
        apart: fc.array(number, { maxLength: 3 }),
      },
      { requiredKeys: ['value', 'unit', 'decimals'] },
    );
    fc.assert(
      fc.property(fc.array(stored, { maxLength: 3 }), fc.constantFrom(plain, british), (kept, display) => {
        const read = saidSchema.parse(kept);
        expect(typeof say(read, display)).toBe('string');
      }),
      { numRuns: 500 },
    );
  });

  it('stands as it was judged where an earlier release kept words alone', () => {
    expect(sayFound({ sentence: 'Mean wind was 6.2 m/s.' }, british)).toBe('Mean wind was 6,2 m/s.');
    expect(wide(sayFound({ sentence: '', said: sentence }, british))).toContain('13,9 mph');
  });

  it('turns a number beside a finding into the reader’s unit and leaves bare ones', () => {
    expect(inReadersUnit(20, 'degC', british)).toEqual({ value: 68, unit: 'degF' });
    expect(inReadersUnit(0.3, '', british)).toEqual({ value: 0.3, unit: '' });
    expect(inReadersUnit(5, 'kWh', british)).toEqual({ value: 5, unit: 'kWh' });
  });
});

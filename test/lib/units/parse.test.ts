import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type ParsedQuantity, parseQuantity } from '@/lib/units/parse';
import { fromCanonical, toCanonical, type UnitCode } from '@/lib/units/unit';

function parsed(text: string, unit: UnitCode, options?: Parameters<typeof parseQuantity>[2]): ParsedQuantity {
  const result = parseQuantity(text, unit, options);
  if (!result.ok) throw new Error(`refused: ${result.reason}`);
  return result;
}

describe('a displayed decimal', () => {
  it('carries half a last digit to each side', () => {
    const energy = parsed('32.9', 'kWh');
    expect(energy.value).toBeCloseTo(32_900, 9);
    expect(energy.low).toBeCloseTo(32_850, 9);
    expect(energy.high).toBeCloseTo(32_950, 9);
    expect(energy.resolution).toBeCloseTo(100, 9);
    // u = a/√3 with a = half the last digit (JCGM 100:2008, 4.3.7 and F.2.2.1)
    expect(energy.standardUncertainty).toBeCloseTo(50 / Math.sqrt(3), 9);
    expect(parsed('32.90', 'kWh').resolution).toBeCloseTo(10, 9);
    expect(parsed('33', 'kWh').resolution).toBeCloseTo(1000, 9);
  });

  it('has an asymmetric interval in a reciprocal unit', () => {
    const shown = parsed('2.03', 'mi/kWh');
    expect(shown.low).toBeCloseTo(toCanonical(2.035, 'mi/kWh'), 9);
    expect(shown.high).toBeCloseTo(toCanonical(2.025, 'mi/kWh'), 9);
    expect(shown.halfWidthHigh).toBeGreaterThan(shown.halfWidthLow);
    expect(shown.low).toBeLessThan(shown.value);
  });

  it.each<[string, number]>([
    ['1,5', 1.5],
    ['1.5', 1.5],
    ['.5', 0.5],
    ['5.', 5],
    ['+5', 5],
    [' 12\u202F345,6 ', 12_345.6],
    ['12\u2009345', 12_345],
    ['12\u00A0345', 12_345],
    ['12 345.25', 12_345.25],
    ['007', 7],
  ])('reads %j', (text, value) => {
    expect(parsed(text, 'Wh').value).toBe(value);
  });

  it.each([
    ['', 'empty'],
    ['   ', 'empty'],
    ['NaN', 'notANumber'],
    ['Infinity', 'notANumber'],
    ['1e309', 'notANumber'],
    ['1e3', 'notANumber'],
    ['0x1F', 'notANumber'],
    ['12 34', 'notANumber'],
    ['1 2', 'notANumber'],
    ['--1', 'notANumber'],
    ['.', 'notANumber'],
    ['12kWh', 'notANumber'],
    ['１２', 'notANumber'],
    ['1,234.5', 'twoDecimalMarks'],
    ['1.2.3', 'twoDecimalMarks'],
    ['1234567890123456', 'tooManyDigits'],
    ['0.1234567890123456', 'tooManyDigits'],
    ['-1', 'negative'],
    ['\u22121', 'negative'],
    ['1:30', 'notANumber'],
  ])('refuses %j as %s', (text, reason) => {
    const result = parseQuantity(text, 'Wh');
    expect(result).toMatchObject({ ok: false, reason });
  });

  it('takes a value below zero where it can be one', () => {
    expect(parsed('-5.0', 'degC').value).toBe(-5);
    expect(parsed('\u22125.0', 'degC').low).toBeCloseTo(-5.05, 12);
    expect(parsed('-60', 'm', { allowNegative: true }).value).toBe(-60);
  });

  it('does not let the interval of a shown zero reach below zero, nor a reciprocal reach infinity', () => {
    expect(parsed('0.0', 'kWh')).toMatchObject({ value: 0, low: 0, halfWidthLow: 0, high: 50 });
    expect(parseQuantity('0.0', 'mi/kWh')).toMatchObject({ ok: false, reason: 'notAboveZero' });
    expect(parseQuantity('0', 'km/kWh')).toMatchObject({ ok: false, reason: 'notAboveZero' });
  });

  it('knows coarser steps and displays that cut off', () => {
    expect(parsed('66.8', 'mi', { lastDigitStep: 5 }).resolution).toBeCloseTo(0.5 * 1609.344, 9);
    const odometer = parsed('66', 'mi', { rounding: 'down' });
    expect(odometer.low).toBe(odometer.value);
    expect(odometer.high).toBeCloseTo(67 * 1609.344, 9);
  });

  it('holds the value inside an interval that rounds back to what was shown', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 99_999 }),
        fc.integer({ min: 0, max: 3 }),
        fc.constantFrom<UnitCode>('kWh', 'mi', 'Wh/mi', 'mi/kWh', 'km/kWh', 'degF', 'psi', '%'),
        (digits, decimals, unit) => {
          const text = (digits / 10 ** decimals).toFixed(decimals);
          const result = parsed(text, unit);
          expect(result.low).toBeLessThan(result.value);
          expect(result.high).toBeGreaterThan(result.value);
          const inside = result.low + 0.999 * (result.high - result.low);
          expect(fromCanonical(inside, unit).toFixed(decimals)).toBe(text);
        },
      ),
    );
  });
});

describe('a duration', () => {
  it('is read as h:mm and h:mm:ss', () => {
    expect(parsed('1:01', 'min')).toMatchObject({ value: 3660, low: 3630, high: 3690, resolution: 60 });
    expect(parsed('1:01:05', 's')).toMatchObject({ value: 3665, low: 3664.5, resolution: 1 });
    expect(parsed('61', 'min').value).toBe(3660);
    expect(parsed('0:45', 'h', { rounding: 'down' })).toMatchObject({ low: 2700, high: 2760 });
  });

  it.each(['1:60', '1:5', '1:05:60', ':30', '1:2:3:4', '1:05.5'])('refuses %s', (text) => {
    expect(parseQuantity(text, 's')).toMatchObject({ ok: false, reason: 'notATime' });
  });
});

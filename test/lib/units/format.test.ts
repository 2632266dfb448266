import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatDuration,
  formatInterval,
  formatNumber,
  formatQuantity,
  formatWithUncertainty,
} from '@/lib/units/format';
import { parseQuantity } from '@/lib/units/parse';

const t = '\u202F';

describe('value and uncertainty', () => {
  it('rounds to tens above a hundred', () => {
    expect(formatNumber(12_344, -1)).toBe(`12${t}340`);
  });

  it('writes value and uncertainty to one place', () => {
    expect(formatWithUncertainty(203.43, 1.234, 'Wh/km')).toBe(`203.4${t}±${t}1.2${t}Wh/km`);
    expect(formatWithUncertainty(200, 2, 'mi/kWh')).toBe(`3.11${t}±${t}0.03${t}mi/kWh`);
    expect(formatWithUncertainty(-5, 0.5, 'degF')).toBe(`23.0${t}±${t}0.9${t}°F`);
  });
});

describe('numbers', () => {
  it('have a true minus sign, thin groups from five digits, and no negative zero', () => {
    expect(formatNumber(-1234.5, 1)).toBe('\u22121234.5');
    expect(formatNumber(-0.04, 1)).toBe('0.0');
    expect(formatNumber(1234567.25, 2, { decimalMark: ',' })).toBe(`1${t}234${t}567,25`);
    expect(formatNumber(3.2, 1, { signed: true })).toBe('+3.2');
    expect(formatNumber(Number.NaN, 1)).toBe('–');
  });

  it('stay with their unit', () => {
    expect(formatQuantity(30.5555555, 'km/h', { decimals: 0 })).toBe(`110${t}km/h`);
    expect(formatQuantity(0.0625, '%', { decimals: 1 })).toBe(`6.3${t}%`);
    expect(formatQuantity(270, 'deg', { decimals: 0 })).toBe('270°');
    expect(formatQuantity(32_900, 'kWh', { significantDigits: 3, bare: true })).toBe('32.9');
    expect(formatQuantity(203, 'kWh/100km')).toBe(`20.30${t}kWh/100\u00A0km`);
  });

  it('put an interval in ascending order in a reciprocal unit too', () => {
    expect(formatInterval(190, 210, 'Wh/km')).toBe(`190 to 210${t}Wh/km`);
    expect(formatInterval(190, 210, 'km/kWh')).toBe(`4.76 to 5.26${t}km/kWh`);
  });

  it('write durations as a display does', () => {
    expect(formatDuration(3660)).toBe('1:01');
    expect(formatDuration(3599)).toBe('1:00');
    expect(formatDuration(3665, true)).toBe('1:01:05');
    expect(formatDuration(-90, true)).toBe('\u22120:01:30');
  });

  it('read back as what they print', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e9, max: 1e9, noNaN: true }),
        fc.integer({ min: 0, max: 4 }),
        (value, decimals) => {
          const result = parseQuantity(formatNumber(value, decimals), 'm', { allowNegative: true });
          expect(result.ok).toBe(true);
          if (result.ok)
            expect(Math.abs(result.value - value)).toBeLessThanOrEqual(0.5000001 * 10 ** -decimals);
        },
      ),
    );
  });
});

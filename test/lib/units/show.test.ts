import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_PREFERENCES, type Display, UNIT_CHOICES } from '@/lib/units/display';
import { parseQuantity } from '@/lib/units/parse';
import {
  budgetPlace,
  placeOf,
  showChance,
  showDisplayed,
  showEstimate,
  showFactor,
  showInterval,
  showNumber,
  showPercentEstimate,
  showQuantity,
  showShare,
  showSignificant,
  showWithUncertainty,
  withReadersMark,
} from '@/lib/units/show';
import { fromCanonical, spreadFromCanonical } from '@/lib/units/unit';

const t = '\u202F';
const plain: Display = DEFAULT_PREFERENCES;
const comma: Display = { ...plain, mark: 'comma' };
const miles: Display = { ...plain, consumption: 'mi/kWh', distance: 'mi', temperature: 'degF' };
const aConsumption = fc.double({ min: 60, max: 600, noNaN: true });
const aRelative = fc.double({ min: 1e-4, max: 0.2, noNaN: true });
const aDisplay = fc
  .tuple(fc.constantFrom(...UNIT_CHOICES.consumption), fc.constantFrom('point' as const, 'comma' as const))
  .map(([consumption, mark]): Display => ({ ...plain, consumption, mark }));

describe('a number in the reader’s unit and mark', () => {
  it('follows the kind', () => {
    expect(showQuantity(16_093.44, 'distance', miles)).toBe(`10.0${t}mi`);
    expect(showQuantity(100 / 3.6, 'speed', miles, { decimals: 0 })).toBe(`62${t}mph`);
    expect(showQuantity(20, 'temperature', miles, { decimals: 0 })).toBe(`68${t}°F`);
    expect(showQuantity(181.7, 'consumption', comma)).toBe(`18,2${t}kWh/100\u00A0km`);
    expect(showQuantity(1500, 'W', comma, { decimals: 0, bare: true })).toBe('1500');
    expect(showQuantity(90, 'deg', comma, { decimals: 0 })).toBe('90°');
  });

  it('reads back through the parser as what it says', () => {
    fc.assert(
      fc.property(aConsumption, aDisplay, (whPerKm, display) => {
        const said = showQuantity(whPerKm, 'consumption', display, { bare: true });
        expect(said.includes(',')).toBe(display.mark === 'comma' && !said.match(/^\d+$/));
        const read = parseQuantity(said, display.consumption);
        expect(read.ok && read.low <= whPerKm * (1 + 1e-12) && whPerKm * (1 - 1e-12) <= read.high).toBe(true);
      }),
    );
  });

  it('shows a reading as its display did', () => {
    expect(showDisplayed(24.6, 2, comma)).toBe('24,60');
    expect(showNumber(-1.25, 1, comma, { signed: true })).toBe('\u22121,3');
  });
});

describe('an estimate', () => {
  it('stands at the place of its interval: never 18.171 beside 17.94 ± 0.67', () => {
    const shown = showEstimate({ value: 181.71, low: 168.3, high: 195.1 }, 'consumption', plain);
    expect(shown).toMatchObject({ value: '18.2', low: '16.8', high: '19.5', interval: '16.8 to 19.5' });
    expect(showWithUncertainty(179.4, 6.7, 'consumption', plain)).toBe(`17.9${t}±${t}0.7${t}kWh/100\u00A0km`);
  });

  it('turns its ends round in a unit of distance per energy', () => {
    const shown = showEstimate({ value: 200, low: 190, high: 210 }, 'consumption', miles);
    expect(shown).toMatchObject({ value: '3.11', low: '2.96', high: '3.27', symbol: 'mi/kWh' });
    expect(showInterval(190, 210, 'consumption', miles)).toBe(`2.96 to 3.27${t}mi/kWh`);
  });

  const decimalsOf = (text: string) => text.split(/[.,]/)[1]?.length ?? 0;

  it('has value and ends at one place, moved by at most a tenth of the half-width', () => {
    fc.assert(
      fc.property(aConsumption, aRelative, aDisplay, (value, relative, display) => {
        const ends = { low: value * (1 - relative), high: value * (1 + relative) };
        const shown = showEstimate({ value, ...ends }, 'consumption', display);
        const number = (text: string) => Number(text.replace(',', '.').replaceAll(t, ''));
        const unit = display.consumption;
        const half = Math.abs(fromCanonical(ends.high, unit) - fromCanonical(ends.low, unit)) / 2;
        for (const text of [shown.value, shown.low, shown.high]) {
          expect(decimalsOf(text)).toBe(Math.max(0, shown.decimals));
        }
        const moved = Math.abs(number(shown.value) - fromCanonical(value, unit));
        expect(moved).toBeLessThanOrEqual(0.1 * half * (1 + 1e-9));
        expect(number(shown.low)).toBeLessThanOrEqual(number(shown.value));
        expect(number(shown.value)).toBeLessThanOrEqual(number(shown.high));
      }),
    );
  });

  it('has the place that its standard uncertainty gives, in every unit', () => {
    fc.assert(
      fc.property(aConsumption, aRelative, aDisplay, (value, relative, display) => {
        const place = placeOf(value, value * relative, 'consumption', display);
        const spread = spreadFromCanonical(value * relative, display.consumption, value);
        expect(0.5 * 10 ** -place).toBeLessThanOrEqual(spread * 0.18);
        expect(0.5 * 10 ** -place).toBeGreaterThan(spread * 0.01);
      }),
    );
    expect(placeOf(181.7, 0, 'consumption', plain)).toBe(1);
    expect(budgetPlace(1)).toBe(2);
  });

  it('says a difference in per cent with its sign', () => {
    const difference = { percent: -1.34, low: -2.31, high: -0.24 };
    expect(showPercentEstimate(difference, comma)).toMatchObject({
      value: '\u22121,3',
      interval: '\u22122,3 to \u22120,2',
    });
  });
});

describe('shares, chances and factors', () => {
  it('have the digits of their rule', () => {
    expect(showShare(0.0734, plain)).toBe(`7.3${t}%`);
    expect(showShare(0.734, comma)).toBe(`73${t}%`);
    expect(showShare(0.95, plain, { decimals: 0, bare: true })).toBe('95');
    expect(showFactor(2.0446, plain)).toBe('2.04');
    expect(showSignificant(0.00123456, 3, comma)).toBe('0,00123');
    expect(showSignificant(0, 3, plain)).toBe('0');
  });

  it('never say that a chance is 0 or 1', () => {
    expect(showChance(0, plain)).toBe(`<${t}0.001`);
    expect(showChance(1, comma)).toBe(`>${t}0,999`);
    expect(showChance(0.0342, plain)).toBe('0.034');
    expect(showChance(0.5, plain)).toBe('0.50');
    expect(showChance(0.9873, plain)).toBe('0.987');
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (chance) => {
        expect(showChance(chance, plain)).not.toMatch(/^[01](\.0+)?$/);
      }),
    );
  });
});

describe('a sentence of the record', () => {
  it('changes the decimal mark and nothing else', () => {
    const sentence = 'Loss 8.25 % of 24.60 kWh, above 7.5 (GUM 7.2.6, protocol 1.0).';
    expect(withReadersMark(sentence, plain)).toBe(sentence);
    expect(withReadersMark(sentence, comma)).toBe(
      'Loss 8,25 % of 24,60 kWh, above 7,5 (GUM 7.2.6, protocol 1.0).',
    );
  });
});

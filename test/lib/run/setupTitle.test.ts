import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FACTORS } from '@/lib/run/factors';
import { setupAtStart, setupInText, setupTitle } from '@/lib/run/setupTitle';

describe('a setup in a sentence', () => {
  it.each([
    ['As delivered', 'the car as delivered'],
    ['Ride height: low', '“Low ride height”'],
    ['Ride height: Lowered suspension', '“Lowered suspension”'],
    ['Ride height: −20 mm', '“−20 mm ride height”'],
    ['Drive mode: Eco', '“Eco drive mode”'],
    ['Drive mode: Off-road', '“Off-road drive mode”'],
    ['Drive mode: Range mode', '“Range mode”'],
    ['Roof and hitch items: Roof box 400 L', '“Roof box 400 L”'],
    ['Roof and hitch items: Nothing outside', '“Nothing outside”'],
    ['Wheel and tyre: 20-inch all-terrain', '“20-inch all-terrain wheels and tyres”'],
    ['Wheel and tyre: Summer tyres', '“Summer tyres”'],
    ['Wheel and tyre: 18-inch without covers', '“18-inch wheels and tyres without covers”'],
    ['Tyre pressure: Placard, full load', '“Placard tyre pressure, full load”'],
    ['Tyre pressure: Above the placard', '“Tyre pressure above the placard”'],
    ['Load: 400 kg cargo', '“400 kg cargo”'],
    ['Load: 560 kg', '“560 kg load”'],
    ['Load: Driver only', '“Driver only”'],
    ['Openings and covers: Bed cover off', '“Bed cover off”'],
    ['Openings and covers: Open', '“Openings and covers open”'],
    ['Cabin climate: On, 21 °C', '“Cabin climate on, 21 °C”'],
    ['Cabin climate: Off', '“Cabin climate off”'],
  ])('%s is %s', (title, name) => {
    expect(setupInText(title)).toBe(name);
  });

  it('joins several levels, and keeps a name’s own capitals', () => {
    const title = setupTitle([
      { factor: 'load', label: '400 kg cargo' },
      { factor: 'roofHitch', label: 'Roof box 400 L' },
      { factor: 'driveMode', label: 'Eco' },
    ]);
    expect(title).toBe('Drive mode: Eco · Load: 400 kg cargo · Roof and hitch items: Roof box 400 L');
    expect(setupInText(title)).toBe('“Eco drive mode with 400 kg cargo and roof box 400 L”');
    expect(setupInText('Ride height: low · Roof and hitch items: Skerry Cargo')).toBe(
      '“Low ride height with Skerry Cargo”',
    );
  });

  it('says the model before the levels where setups of several are compared', () => {
    expect(setupInText('Skerry Pipit 2025 · Ride height: Low')).toBe(
      '“Skerry Pipit 2025 with low ride height”',
    );
    expect(setupInText('Skerry Pipit 2025 · As delivered')).toBe('“Skerry Pipit 2025 as delivered”');
  });

  it('begins a sentence with a capital', () => {
    expect(setupAtStart('As delivered')).toBe('The car as delivered');
    expect(setupAtStart('Ride height: low')).toBe('“Low ride height”');
  });

  it('loses no word of any level, whatever a tester called it', () => {
    const level = fc.record({
      factor: fc.constantFrom(...FACTORS.map(({ key }) => key as string)),
      label: fc
        .string({ minLength: 1, maxLength: 30, unit: 'grapheme' })
        .filter((text) => text.trim() === text),
    });
    fc.assert(
      fc.property(
        fc.uniqueArray(level, { minLength: 1, maxLength: 4, selector: (one) => one.factor }),
        (levels) => {
          const name = setupInText(setupTitle(levels)).toUpperCase();
          for (const { label } of levels) {
            for (const word of label.toUpperCase().split(/[\s,()]+/)) expect(name).toContain(word);
          }
        },
      ),
    );
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linearAxis } from '@/app/ui/figures/axis';
import { paint, withFixedColours } from '@/app/ui/figures/paint';
import { compactFrame, wideFrame } from '@/app/ui/figures/ResponsiveSvg';
import { textWidth, wrapText } from '@/app/ui/figures/textFit';
import { darkPalette, lightPalette } from '@/app/ui/palette';

describe('an axis', () => {
  it('has round ticks', () => {
    // Documentation of d3-array, ticks(start, stop, count): multiples of 1, 2 or 5 times a power of ten.
    const axis = linearAxis({ values: [], domain: [0, 10], range: [0, 100], tickCount: 5 });
    expect(axis.ticks.map((tick) => tick.label)).toEqual(['0', '2', '4', '6', '8', '10']);
    expect(axis.scale(5)).toBe(50);
  });

  it('writes as many decimals as its finest tick needs, with the reader’s mark', () => {
    const labels = (domain: [number, number], mark: 'point' | 'comma') =>
      linearAxis({ values: [], domain, range: [0, 1], tickCount: 4, mark }).ticks.map(({ label }) => label);
    expect(labels([17, 18], 'comma')).toEqual(['17,0', '17,2', '17,4', '17,6', '17,8', '18,0']);
    expect(labels([0, 2000], 'point')).toEqual(['0', '500', '1000', '1500', '2000']);
    expect(labels([0, 20_000], 'comma')).toEqual(['0', '5000', '10\u202F000', '15\u202F000', '20\u202F000']);
  });

  it('writes the typographic minus and takes a format', () => {
    const axis = linearAxis({
      values: [],
      domain: [-4, 4],
      range: [0, 1],
      tickCount: 4,
      formatTick: (v) => `${v} %`,
    });
    expect(axis.ticks.map((tick) => tick.label)).toEqual(['−4 %', '−2 %', '0 %', '2 %', '4 %']);
  });

  it('holds every value and ticks inside itself, and does not run past zero for numbers of one sign', () => {
    // Display units: zero, or at least a millionth.
    const value = fc.double({ min: -1e6, max: 1e6, noNaN: true }).map((v) => (Math.abs(v) < 1e-6 ? 0 : v));
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 30 }), (values) => {
        const axis = linearAxis({ values, range: [0, 100] });
        const [low, high] = axis.domain;
        for (const v of [...values, ...axis.ticks.map((tick) => tick.value)]) {
          expect(axis.scale(v)).toBeGreaterThanOrEqual(-1e-6);
          expect(axis.scale(v)).toBeLessThanOrEqual(100 + 1e-6);
        }
        expect(low).toBeLessThan(high);
        if (values.every((v) => v >= 0)) expect(low).toBeGreaterThanOrEqual(0);
        if (values.every((v) => v < 0)) expect(high).toBeLessThanOrEqual(0);
      }),
    );
  });
});

describe('letters', () => {
  it('stay at 12 px or more on the narrowest screen, and at 11 where the wide drawing begins', () => {
    // A 320 px screen leaves 288 px between the page's margins of 16 px.
    expect((compactFrame.text * (320 - 32)) / compactFrame.width).toBeGreaterThanOrEqual(12);
    // The wide drawing appears from a container of 48 rem = 768 px (@3xl).
    expect((wideFrame.text * 768) / wideFrame.width).toBeGreaterThanOrEqual(11);
  });

  // Measured with canvas measureText in Chromium, the shipped Source Sans 3 at weight 400: em a letter.
  it.each([
    ['Low ride height', 0.43],
    ['Roof bars without load, doors and tailgate covered', 0.419],
    ['12 runs · 3 cars · 2 testers · 1 loop · 5 days', 0.365],
    ['−3.1 % (−5.0 to −1.2)', 0.396],
    ['201.3 Wh/km', 0.495],
    ['Consumption, Wh/km', 0.506],
    ['turnaround', 0.48],
    ['1250', 0.497],
  ])('of "%s" are as wide as thought, within 8 %%', (text, perLetter) => {
    // 8 % is what keeps two words 6 units apart at 80 units of width; the sign may be either.
    expect(textWidth(text, 1) / (perLetter * text.length)).toBeGreaterThan(0.97);
    expect(textWidth(text, 1) / (perLetter * text.length)).toBeLessThan(1.08);
  });

  it('wrap without loss, or end in an ellipsis', () => {
    fc.assert(
      fc.property(
        fc.stringMatching(/^[a-z]{1,9}( [a-z]{1,9}){0,9}$/),
        fc.integer({ min: 60, max: 400 }),
        (label, width) => {
          const lines = wrapText(label, width, 13);
          expect(lines.length).toBeLessThanOrEqual(2);
          const joined = lines.join(' ');
          if (joined.endsWith('…')) expect(label.startsWith(joined.slice(0, -1).trimEnd())).toBe(true);
          else expect(joined).toBe(label);
        },
      ),
    );
  });
});

describe('colours put in', () => {
  it('leave no variable behind', () => {
    const markup = Object.values(paint).join(' ');
    expect(withFixedColours(markup, 'light')).toBe(Object.values(lightPalette).join(' '));
    expect(withFixedColours(markup, 'dark')).toBe(Object.values(darkPalette).join(' '));
    expect(withFixedColours('var(--other)', 'light')).toBe('var(--other)');
  });
});

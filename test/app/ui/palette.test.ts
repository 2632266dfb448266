import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { darkPalette, lightPalette, type Palette, type PaletteName, paletteNames } from '@/app/ui/palette';

/** Relative luminance, WCAG 2.2, definition of that term (threshold 0.04045 as in its 2021 correction). */
function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast ratio, WCAG 2.2, definition of that term. */
function contrast(a: string, b: string): number {
  const [dark = 0, light = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (light + 0.05) / (dark + 0.05);
}

const themes: [string, Palette][] = [
  ['light', lightPalette],
  ['dark', darkPalette],
];
const grounds: PaletteName[] = ['paper', 'sheet', 'wash', 'accent-wash'];

/** Text on ground: SC 1.4.3 asks 4.5 for text of any size. */
const textPairs: [PaletteName, PaletteName][] = [
  ...(['ink', 'ink-soft', 'accent', 'caution', 'problem', 'done'] as const).flatMap((text) =>
    grounds.map((ground): [PaletteName, PaletteName] => [text, ground]),
  ),
  ['accent-ink', 'accent'],
  ['paper', 'ink'],
  ['paper', 'problem'],
  ...(['caution', 'problem', 'done'] as const).flatMap((state): [PaletteName, PaletteName][] => [
    [state, `${state}-wash`],
    ['ink', `${state}-wash`],
    ['ink-soft', `${state}-wash`],
    ['accent', `${state}-wash`],
  ]),
];

/** Edges of controls, focus marks and figure marks: SC 1.4.11 asks 3. */
const graphicPairs: [PaletteName, PaletteName][] = (['rule-strong', 'ink-faint', 'accent'] as const).flatMap(
  (mark) => grounds.map((ground): [PaletteName, PaletteName] => [mark, ground]),
);

describe('the contrast formula', () => {
  it('gives the two ratios everyone knows', () => {
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 10); // WCAG 2.2: ratios range from 1 to 21
    expect(contrast('#ffffff', '#ffffff')).toBe(1);
    // #767676 is commonly quoted as the lightest grey that passes on white, #777777 as the first that
    // fails (4.54 and 4.48; from memory).
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.48, 2);
  });
});

describe.each(themes)('%s theme', (_, palette) => {
  it.each(textPairs)('sets %s on %s with at least 4.5', (text, ground) => {
    expect(contrast(palette[text], palette[ground])).toBeGreaterThanOrEqual(4.5);
  });

  it.each(graphicPairs)('draws %s on %s with at least 3', (mark, ground) => {
    expect(contrast(palette[mark], palette[ground])).toBeGreaterThanOrEqual(3);
  });
});

describe('the style sheet', () => {
  const css = readFileSync(new URL('../../../app/globals.css', import.meta.url), 'utf8');

  it.each(paletteNames)('carries both values of %s', (name) => {
    expect(css).toContain(`  --${name}: light-dark(${lightPalette[name]}, ${darkPalette[name]});`);
    expect(css).toContain(`  --color-${name}: var(--${name});`);
  });

  it('marks focus with two pixels', () => {
    expect(css).toMatch(/:focus-visible \{\s*outline: 2px solid var\(--accent\);/);
  });
});

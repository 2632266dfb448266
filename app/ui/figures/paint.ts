import { darkPalette, lightPalette, type PaletteName, paletteNames } from '../palette';

/** Paints for SVG attributes. On a page they follow the theme; in a file they are put in as values. */
export const paint = Object.fromEntries(paletteNames.map((name) => [name, `var(--${name})`])) as Record<
  PaletteName,
  string
>;

/** Replaces every theme variable in a figure's markup by its value, for files that stand alone. */
export function withFixedColours(markup: string, theme: 'light' | 'dark'): string {
  const palette = theme === 'light' ? lightPalette : darkPalette;
  return markup.replace(/var\(--([a-z-]+)\)/g, (whole, name: string) =>
    name in palette ? palette[name as PaletteName] : whole,
  );
}

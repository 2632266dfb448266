import { readFile } from 'node:fs/promises';
import { join } from 'node:path';

/**
 * The app's faces as static outlines: the rasteriser draws no ink with the WOFF2 of the pages. Named by path from the
 * app's folder, as a bundler has nothing to follow here; the SVG files carry the pages' own faces inside.
 */
const modules = () => join(process.cwd(), 'node_modules');

export function outlineFonts(): string[] {
  const fonts = join(modules(), '@expo-google-fonts');
  return [
    join(fonts, 'source-sans-3', '400Regular', 'SourceSans3_400Regular.ttf'),
    join(fonts, 'source-sans-3', '600SemiBold', 'SourceSans3_600SemiBold.ttf'),
    join(fonts, 'source-serif-4', '600SemiBold', 'SourceSerif4_600SemiBold.ttf'),
  ];
}

let embedded: Promise<string> | undefined;

/** Rules that put the faces into an SVG file, so that it looks the same where neither is installed. */
export function embeddedFonts(): Promise<string> {
  embedded ??= Promise.all(
    [
      ['Source Sans 3', 'source-sans-3', '200 900'],
      ['Source Serif 4', 'source-serif-4', '200 900'],
    ].map(async ([family = '', name = '', weights]) => {
      const file = join(modules(), '@fontsource-variable', name, 'files', `${name}-latin-wght-normal.woff2`);
      const bytes = (await readFile(file)).toString('base64');
      return `@font-face{font-family:'${family}';font-weight:${weights};src:url(data:font/woff2;base64,${bytes}) format('woff2')}`;
    }),
  ).then((rules) => rules.join(''));
  return embedded;
}

import { renderAsync } from '@resvg/resvg-js';
import type { ReactElement } from 'react';
import type { FigureTheme } from '@/app/ui/figures/figureAddress';
import { type DrawnFigure, FreePicture, type PictureWords, ShapedPicture } from '@/app/ui/figures/Picture';
import { withFixedColours } from '@/app/ui/figures/paint';
import type { PictureShape } from '@/app/ui/figures/pictureShape';
import { embeddedFonts, outlineFonts } from './pictureFonts';

export interface PictureChoice {
  theme: FigureTheme;
  /** Its natural height where no shape is asked for. */
  shape?: PictureShape | undefined;
}

/** A figure as an SVG that needs nothing around it: colours put in, no style sheet, no script. */
export function pictureMarkup(
  figure: DrawnFigure,
  words: PictureWords,
  choice: PictureChoice,
): Promise<string> {
  const { shape, theme } = choice;
  const picture = shape ? (
    <ShapedPicture figure={figure} words={words} shape={shape} />
  ) : (
    <FreePicture figure={figure} words={words} />
  );
  return markupOf(picture, theme);
}

/** The renderer is loaded on call because the framework refuses it as a plain import. */
export async function markupOf(picture: ReactElement, theme: FigureTheme): Promise<string> {
  const { renderToStaticMarkup } = await import('react-dom/server');
  return withFixedColours(renderToStaticMarkup(picture), theme).replaceAll(/ data-row="\d+"/g, '');
}

/** The same with its faces inside, for a file that is opened anywhere. */
export async function svgFile(markup: string): Promise<string> {
  const style = `<style>${await embeddedFonts()}</style>`;
  return `${markup.replace(/>/, `>${style}`)}\n`;
}

const fontOptions = () => ({
  fontFiles: outlineFonts(),
  loadSystemFonts: false,
  defaultFontFamily: 'Source Sans 3',
  sansSerifFamily: 'Source Sans 3',
  serifFamily: 'Source Serif 4',
});

/** Drawn in a thread of its own, so that the server goes on answering. */
export async function pngFile(markup: string): Promise<Uint8Array> {
  const picture = await renderAsync(markup, { font: fontOptions() });
  return picture.asPng();
}

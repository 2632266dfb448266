import type { ReactElement } from 'react';
import { withFixedColours } from './paint';

/**
 * The markup of a figure drawn with target="file", as an SVG file of its own: colours put in, no
 * style sheet needed. The renderer is loaded on call because Next refuses it as a plain import.
 */
export async function figureFile(figure: ReactElement, theme: 'light' | 'dark' = 'light'): Promise<string> {
  const { renderToStaticMarkup } = await import('react-dom/server');
  return withFixedColours(renderToStaticMarkup(figure), theme);
}

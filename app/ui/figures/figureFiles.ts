import type { FigureDescription } from './description';
import { type FigureAddress, type FileExtension, figureHref } from './figureAddress';
import { figureVersion } from './figureVersion';
import { pictureShapes } from './pictureShape';

export interface FigureFile {
  label: string;
  href: string;
  /** "1920 × 1080"; a vector and a table have none. */
  pixels?: string;
}

/** Every file of a figure, each under the version that it has now. */
export function figureFiles(figure: FigureDescription, address: FigureAddress): FigureFile[] {
  const v = figureVersion(figure);
  const file = (label: string, extension: FileExtension, choice: Readonly<Record<string, string>> = {}) => ({
    label,
    href: figureHref(address, extension, { ...choice, v }),
    ...(extension === 'png' ? { pixels: pixelsOf(choice.shape ?? 'wide') } : {}),
  });
  const csv = file('CSV', 'csv');
  if (figure.drawing.kind === 'none') return [csv];
  return [
    file('SVG', 'svg'),
    file('SVG dark', 'svg', { theme: 'dark' }),
    file('PNG', 'png'),
    file('PNG upright', 'png', { shape: 'upright' }),
    file('PNG dark', 'png', { theme: 'dark' }),
    file('PNG dark, upright', 'png', { shape: 'upright', theme: 'dark' }),
    csv,
  ];
}

function pixelsOf(shape: string): string {
  const { width = 0, height = 0 } = pictureShapes.get(shape) ?? {};
  return `${width} × ${height}`;
}

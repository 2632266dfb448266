import type { FigureDescription } from './description';
import { type FigureAddress, type FileExtension, figureHref } from './figureAddress';
import { figureVersion } from './figureVersion';

/** The figure as files, each under the version that the page shows: under each figure alike. */
export function FigureFiles({ figure, address }: { figure: FigureDescription; address: FigureAddress }) {
  const v = figureVersion(figure);
  const file = (extension: FileExtension, choice: Readonly<Record<string, string>> = {}) =>
    figureHref(address, extension, { ...choice, v });
  const files =
    figure.drawing.kind !== 'none'
      ? [
          { label: 'SVG', href: file('svg') },
          { label: 'PNG', href: file('png') },
          { label: 'PNG upright', href: file('png', { shape: 'upright' }) },
          { label: 'PNG dark', href: file('png', { theme: 'dark' }) },
          { label: 'PNG dark, upright', href: file('png', { shape: 'upright', theme: 'dark' }) },
        ]
      : [];
  return (
    <ul aria-label="This figure as a file" className="no-print mt-2 flex flex-wrap gap-x-4">
      {[...files, { label: 'CSV', href: file('csv') }].map(({ label, href }) => (
        <li key={label}>
          <a className="link inline-flex min-h-8 items-center text-ink-soft" href={href}>
            {label}
          </a>
        </li>
      ))}
    </ul>
  );
}

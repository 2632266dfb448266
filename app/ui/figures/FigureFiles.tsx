import { type FigureAddress, figureHref } from './figureAddress';

/** The figure as files: quiet, under each figure alike. */
export function FigureFiles({ address, isDrawn }: { address: FigureAddress; isDrawn: boolean }) {
  const files = isDrawn
    ? [
        { label: 'SVG', href: figureHref(address, 'svg') },
        { label: 'PNG', href: figureHref(address, 'png') },
        { label: 'PNG upright', href: figureHref(address, 'png', { shape: 'upright' }) },
        { label: 'PNG dark', href: figureHref(address, 'png', { theme: 'dark' }) },
        { label: 'PNG dark, upright', href: figureHref(address, 'png', { shape: 'upright', theme: 'dark' }) },
      ]
    : [];
  return (
    <ul aria-label="This figure as a file" className="no-print flex flex-wrap gap-x-4">
      {[...files, { label: 'CSV', href: figureHref(address, 'csv') }].map(({ label, href }) => (
        <li key={label}>
          <a className="link inline-flex min-h-8 items-center text-ink-soft" href={href}>
            {label}
          </a>
        </li>
      ))}
    </ul>
  );
}

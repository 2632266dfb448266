import type { FigureDescription } from './description';
import type { FigureAddress } from './figureAddress';
import { figureFiles } from './figureFiles';

/** The figure as files, each under the version that the page shows: under each figure alike. */
export function FigureFiles({ figure, address }: { figure: FigureDescription; address: FigureAddress }) {
  return (
    <ul aria-label="This figure as a file" className="no-print mt-2 flex flex-wrap gap-x-4">
      {figureFiles(figure, address).map(({ label, href }) => (
        <li key={label}>
          <a className="link inline-flex min-h-8 items-center text-ink-soft" href={href}>
            {label}
          </a>
        </li>
      ))}
    </ul>
  );
}

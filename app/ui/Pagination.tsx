import { Link } from './Link';

interface PaginationProps {
  page: number;
  pageCount: number;
  hrefFor: (page: number) => string;
  /** What is paged, for example "Pages of runs". */
  label: string;
}

/** The first, last and neighbouring pages; a gap stands for those left out. */
function pagesToShow(page: number, pageCount: number): (number | 'gap')[] {
  const wanted = [1, page - 1, page, page + 1, pageCount].filter((n) => n >= 1 && n <= pageCount);
  const pages = [...new Set(wanted)].sort((a, b) => a - b);
  return pages.flatMap((n, i) => (i > 0 && n - (pages[i - 1] ?? n) > 1 ? (['gap', n] as const) : [n]));
}

const box = 'inline-flex min-h-11 min-w-9 items-center justify-center px-1.5 text-sm sm:min-w-11 sm:px-2';

export function Pagination({ page, pageCount, hrefFor, label }: PaginationProps) {
  if (pageCount <= 1) return null;
  return (
    <nav aria-label={label} className="no-print mt-6">
      <ul className="num flex flex-wrap items-center gap-1">
        <li>
          {page > 1 ? (
            <Link href={hrefFor(page - 1)} rel="prev" className={`${box} link`}>
              Previous
            </Link>
          ) : null}
        </li>
        {pagesToShow(page, pageCount).map((n, index, all) =>
          n === 'gap' ? (
            <li key={`gap-after-${all[index - 1]}`} aria-hidden="true" className="px-1 text-ink-soft">
              …
            </li>
          ) : (
            <li key={n}>
              <Link
                href={hrefFor(n)}
                aria-label={`Page ${n}`}
                aria-current={n === page ? 'page' : undefined}
                className={`${box} border-b-2 border-transparent hover:border-rule-strong aria-[current=page]:border-accent aria-[current=page]:font-semibold`}
              >
                {n}
              </Link>
            </li>
          ),
        )}
        <li>
          {page < pageCount ? (
            <Link href={hrefFor(page + 1)} rel="next" className={`${box} link`}>
              Next
            </Link>
          ) : null}
        </li>
      </ul>
    </nav>
  );
}

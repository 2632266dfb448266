import { Link } from './Link';

interface KeysetPagesProps {
  /** Cursors of the neighbouring pages. */
  previous: string | undefined;
  next: string | undefined;
  /** The address of a page by its cursor; undefined: the first. */
  hrefFor: (cursor: string | undefined) => string;
  /** What is paged, for example "Pages of runs". */
  label: string;
}

const box = 'link inline-flex min-h-11 items-center text-sm';

/** Ways through a list of which nobody counts the pages: the first, the one before and the one after. */
export function KeysetPages({ previous, next, hrefFor, label }: KeysetPagesProps) {
  if (previous === undefined && next === undefined) return null;
  return (
    <nav aria-label={label} className="no-print mt-6">
      <ul className="flex flex-wrap items-center gap-x-6">
        {previous === undefined ? null : (
          <>
            <li>
              <Link href={hrefFor(undefined)} rel="first" className={box}>
                First page
              </Link>
            </li>
            <li>
              <Link href={hrefFor(previous)} rel="prev" className={box}>
                Previous
              </Link>
            </li>
          </>
        )}
        {next === undefined ? null : (
          <li>
            <Link href={hrefFor(next)} rel="next" className={box}>
              Next
            </Link>
          </li>
        )}
      </ul>
    </nav>
  );
}

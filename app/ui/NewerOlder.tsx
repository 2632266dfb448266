import Link from 'next/link';

interface NewerOlderProps {
  /** What is paged, for example "Pages of runs". */
  label: string;
  newerHref: string | undefined;
  olderHref: string | undefined;
}

const box = 'link inline-flex min-h-11 items-center px-1.5 text-sm';

/** Both ways through a list, the latest first, that is too long to number its pages. */
export function NewerOlder({ label, newerHref, olderHref }: NewerOlderProps) {
  if (newerHref === undefined && olderHref === undefined) return null;
  return (
    <nav aria-label={label} className="no-print mt-4 flex gap-6">
      {newerHref === undefined ? null : (
        <Link href={newerHref} rel="prev" className={box}>
          Newer
        </Link>
      )}
      {olderHref === undefined ? null : (
        <Link href={olderHref} rel="next" className={box}>
          Older
        </Link>
      )}
    </nav>
  );
}

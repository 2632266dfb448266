import { Link } from './Link';

export interface Crumb {
  label: string;
  /** Left out for the page one is on. */
  href?: string;
}

export function Breadcrumbs({ items }: { items: readonly Crumb[] }) {
  return (
    <nav aria-label="Breadcrumb" className="mb-4 text-sm">
      <ol className="flex flex-wrap items-center">
        {items.map((item, index) => (
          <li key={`${item.href ?? ''}${item.label}`} className="inline-flex items-center">
            {index > 0 ? (
              <span aria-hidden="true" className="px-2 text-ink-faint">
                /
              </span>
            ) : null}
            {item.href ? (
              <Link href={item.href} className="link inline-flex min-h-6 items-center">
                {item.label}
              </Link>
            ) : (
              <span aria-current="page" className="text-ink-soft">
                {item.label}
              </span>
            )}
          </li>
        ))}
      </ol>
    </nav>
  );
}

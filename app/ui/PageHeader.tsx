import type { ReactNode } from 'react';
import { Breadcrumbs, type Crumb } from './Breadcrumbs';
import { unbroken } from './unbroken';

interface PageHeaderProps {
  title: ReactNode;
  /** One or two sentences: what the page says or does. */
  lead?: ReactNode;
  /** Buttons and links that act on the whole page. */
  actions?: ReactNode;
  /** A line of facts under the title: state, counts, dates. */
  meta?: ReactNode;
  breadcrumbs?: readonly Crumb[];
}

/** Opens every page: where we are, its one h1, what it is about and what can be done. */
export function PageHeader({ title, lead, actions, meta, breadcrumbs }: PageHeaderProps) {
  return (
    <header className="mb-8 sm:mb-12">
      {breadcrumbs ? <Breadcrumbs items={breadcrumbs} /> : null}
      <div className="flex flex-wrap items-end justify-between gap-x-8 gap-y-4">
        <div className="min-w-0 max-w-[46rem]">
          <h1>{unbroken(title)}</h1>
          {meta ? (
            <div className="mt-3 flex flex-wrap items-center gap-x-4 gap-y-1 text-sm text-ink-soft">
              {meta}
            </div>
          ) : null}
          {lead ? <div className="mt-4 text-lg text-ink-soft">{unbroken(lead)}</div> : null}
        </div>
        {actions ? <div className="no-print flex flex-wrap items-center gap-3">{actions}</div> : null}
      </div>
    </header>
  );
}

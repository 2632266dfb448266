'use client';

import { usePathname } from 'next/navigation';
import type { ReactNode } from 'react';
import { Link } from './Link';
import { isCurrent, mainLinks } from './siteMap';

/** Header links in a row; the current one is marked for eyes (a rule under it) and for screen readers. */
export function SiteNav() {
  const pathname = usePathname();
  return (
    <nav aria-label="Main" className="no-print hidden lg:block">
      <ul className="flex items-stretch gap-1">
        {mainLinks.map((link) => (
          <li key={link.href}>
            <Link
              href={link.href}
              aria-current={isCurrent(pathname, link.href) ? 'page' : undefined}
              className="inline-flex min-h-11 items-center border-b-2 border-transparent px-2.5 text-sm hover:border-rule-strong aria-[current=page]:border-accent aria-[current=page]:font-semibold"
            >
              {link.label}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** The same links behind a disclosure on small screens. It is a plain <details>, so it works without scripts. */
export function SiteMenu({ account }: { account?: ReactNode }) {
  const pathname = usePathname();
  return (
    // The key closes the menu after a move to another page.
    <details key={pathname} className="no-print group lg:hidden">
      <summary className="inline-flex min-h-11 list-none items-center gap-2 px-2 text-sm font-semibold [&::-webkit-details-marker]:hidden">
        <svg viewBox="0 0 16 16" className="size-4" aria-hidden="true" focusable="false">
          <path
            d="M1 4h14M1 8h14M1 12h14"
            stroke="currentColor"
            strokeWidth="1.5"
            className="group-open:hidden"
          />
          <path
            d="M3 3l10 10M13 3L3 13"
            stroke="currentColor"
            strokeWidth="1.5"
            className="hidden group-open:block"
          />
        </svg>
        Menu
      </summary>
      <div className="absolute inset-x-0 top-full z-40 border-b border-rule-strong bg-paper px-4 pb-4 sm:px-8">
        <nav aria-label="Main">
          <ul className="grid grid-cols-2 gap-x-6">
            {mainLinks.map((link) => (
              <li key={link.href} className="border-b border-rule">
                <Link
                  href={link.href}
                  aria-current={isCurrent(pathname, link.href) ? 'page' : undefined}
                  className="flex min-h-12 items-center aria-[current=page]:font-semibold aria-[current=page]:text-accent aria-[current=page]:underline"
                >
                  {link.label}
                </Link>
              </li>
            ))}
          </ul>
        </nav>
        {account ? <div className="pt-3">{account}</div> : null}
      </div>
    </details>
  );
}

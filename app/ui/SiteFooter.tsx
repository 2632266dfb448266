import type { ReactNode } from 'react';
import { Link } from './Link';
import { footerLinks } from './siteMap';

/** What the numbers stand for, the lesser links, and how numbers are shown. */
export function SiteFooter({ display }: { display: ReactNode }) {
  return (
    <footer className="border-t border-rule-strong text-sm">
      <div className="mx-auto grid max-w-[76rem] gap-6 px-4 py-8 sm:px-8 md:grid-cols-[1fr_auto]">
        <p className="max-w-[34rem] text-ink-soft">
          Estimates under stated conditions, not a promise of range. Posted limits and local law come before
          any test.
        </p>
        <nav aria-label="More">
          <ul className="grid grid-cols-2 gap-x-8 sm:grid-cols-3">
            {footerLinks.map((link) => (
              <li key={link.href}>
                <Link href={link.href} className="link inline-flex min-h-8 items-center">
                  {link.label}
                </Link>
              </li>
            ))}
          </ul>
        </nav>
        <div className="no-print md:col-span-2">{display}</div>
      </div>
    </footer>
  );
}

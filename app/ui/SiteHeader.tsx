import type { ReactNode } from 'react';
import { Link } from './Link';
import { SiteMenu, SiteNav } from './SiteNav';
import { Wordmark } from './Wordmark';

/** Brand, main links and the account slot, over one thin rule. */
export function SiteHeader({ account }: { account?: ReactNode }) {
  return (
    <header className="relative border-b border-rule-strong">
      <div className="mx-auto flex min-h-16 max-w-[76rem] flex-wrap items-center gap-x-3 sm:gap-x-6 px-4 sm:px-8">
        <Link href="/" className="mr-auto inline-flex min-h-11 items-center" aria-label="Evenloop, home">
          <Wordmark />
        </Link>
        <SiteNav />
        <div className="no-print flex items-center">{account}</div>
        <SiteMenu />
      </div>
    </header>
  );
}

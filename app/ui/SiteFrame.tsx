import type { ReactNode } from 'react';
import { SiteFooter } from './SiteFooter';
import { SiteHeader } from './SiteHeader';
import { SkipLink } from './SkipLink';

interface SiteFrameProps {
  account?: ReactNode;
  display?: ReactNode;
  children: ReactNode;
}

/** Header, main and footer of every page but the field card, which has a shell of its own. */
export function SiteFrame({ account, display, children }: SiteFrameProps) {
  return (
    <>
      <SkipLink />
      <SiteHeader account={account} />
      <main
        id="main"
        tabIndex={-1}
        className="mx-auto w-full max-w-[76rem] flex-1 px-4 pt-6 pb-20 sm:px-8 sm:pt-10"
      >
        {children}
      </main>
      <SiteFooter display={display} />
    </>
  );
}

'use client';

import { usePathname, useSearchParams } from 'next/navigation';
import { Suspense } from 'react';
import { Link } from './Link';

export const DISPLAY_PATH = '/display';

/** To the one place where units and appearance are chosen, and from there back to this page. */
export function DisplayLink({ className = 'link' }: { className?: string }) {
  return (
    <Suspense fallback={<DisplayLinkTo className={className} />}>
      <DisplayLinkFromHere className={className} />
    </Suspense>
  );
}

function DisplayLinkFromHere({ className }: { className: string }) {
  const pathname = usePathname();
  const query = useSearchParams().toString();
  const here = query === '' ? pathname : `${pathname}?${query}`;
  return <DisplayLinkTo className={className} back={pathname === DISPLAY_PATH ? undefined : here} />;
}

function DisplayLinkTo({ className, back }: { className: string; back?: string }) {
  return (
    <Link
      href={back === undefined ? DISPLAY_PATH : `${DISPLAY_PATH}?back=${encodeURIComponent(back)}`}
      className={className}
    >
      Units and display
    </Link>
  );
}

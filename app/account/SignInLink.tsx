'use client';

import { usePathname, useSearchParams } from 'next/navigation';
import { useState } from 'react';
import { Link } from '@/app/ui/Link';

/** To the sign-in and back to the page that one was reading, with its query and the place in it. */
export function SignInLink() {
  const path = usePathname();
  const query = useSearchParams().toString();
  // Only the browser knows the part after the hash, and it may change without the page.
  const [hash, setHash] = useState('');
  const takeHash = () => setHash(window.location.hash);
  const here = `${path}${query === '' ? '' : `?${query}`}${hash}`;
  return (
    <Link
      href={isWorthReturning(path) ? `/sign-in?callbackUrl=${encodeURIComponent(here)}` : '/sign-in'}
      onPointerEnter={takeHash}
      onFocus={takeHash}
      className="link inline-flex min-h-11 items-center text-sm"
    >
      Sign in
    </Link>
  );
}

/** From the first page and from pages about signing in one goes on to one's own runs. */
function isWorthReturning(path: string): boolean {
  return ![
    '/',
    '/sign-in',
    '/sign-up',
    '/forgotten-password',
    '/new-password',
    '/prove-address',
    '/unsubscribe',
  ].includes(path);
}

'use client';

import { useRouter } from 'next/navigation';
import { useEffect } from 'react';

/** Reads the page anew every so often, as long as it is there; nothing while the page is out of sight. */
export function RefreshWhile({ everyMs = 2000 }: { everyMs?: number }) {
  const router = useRouter();
  useEffect(() => {
    const timer = setInterval(() => {
      if (document.visibilityState === 'visible') router.refresh();
    }, everyMs);
    return () => clearInterval(timer);
  }, [router, everyMs]);
  return null;
}

'use client';

import { useEffect, useRef } from 'react';

/**
 * Gives the focus to the box that it stands in when the page that it was sent to opens: after a form the focus would
 * fall back to the document, before the header. An address that leads to a part of the page is followed instead.
 */
export function TakeFocus({ on }: { on: string }) {
  const mark = useRef<HTMLSpanElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the next outcome in the same place takes it anew
  useEffect(() => {
    if (window.location.hash === '') mark.current?.closest<HTMLElement>('[tabindex]')?.focus();
  }, [on]);
  return <span ref={mark} hidden />;
}

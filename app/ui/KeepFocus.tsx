'use client';

import { useEffect } from 'react';

/** Time for what asked for the focus itself (an outcome, a summary of errors) to get it. */
const PATIENCE_MS = 120;

/**
 * What has the focus may go with what it did: a claim's button, a row that was removed, the link that led to the next
 * page. The browser then lets the focus fall to the document, whose next stop is the header. Here it goes to the
 * smallest part around it that is still there.
 */
export function KeepFocus() {
  useEffect(() => {
    let around: readonly HTMLElement[] = [];
    let timer: ReturnType<typeof setTimeout> | undefined;
    const note = ({ target }: FocusEvent) => {
      around = target instanceof HTMLElement ? partsAround(target) : [];
    };
    const look = () => {
      const [focused] = around;
      if (focused === undefined || focused.isConnected || document.activeElement !== document.body) return;
      const part = around.find((one) => one.isConnected) ?? document.getElementById('main');
      around = [];
      if (part === null) return;
      if (!part.hasAttribute('tabindex')) part.tabIndex = -1;
      part.focus({ preventScroll: true });
    };
    const watch = new MutationObserver(() => {
      clearTimeout(timer);
      timer = setTimeout(look, PATIENCE_MS);
    });
    document.addEventListener('focusin', note);
    watch.observe(document.body, { childList: true, subtree: true });
    return () => {
      clearTimeout(timer);
      document.removeEventListener('focusin', note);
      watch.disconnect();
    };
  }, []);
  return null;
}

/** What has the focus, then the parts of the page that hold it, from the smallest to main. */
function partsAround(focused: HTMLElement): HTMLElement[] {
  const parts = [focused];
  let part = focused.parentElement;
  while (part !== null && part.id !== 'main' && part !== document.body) {
    if (part.matches('[tabindex], form, fieldset, section, dialog')) parts.push(part);
    part = part.parentElement;
  }
  return parts;
}

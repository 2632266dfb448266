import type { ReactNode } from 'react';

/** Loaded so because the framework refuses it as a plain import. */
const { renderToStaticMarkup } = await import('react-dom/server');

/**
 * What nothing in the browser changes, as text: a page then holds it as it is and once more as one string, in place of
 * a tree of elements to take apart and to attach to. Inside there are no hooks and no links of the framework's.
 */
export function Still({ className, children }: { className?: string; children: ReactNode }) {
  return (
    // biome-ignore lint/security/noDangerouslySetInnerHtml: rendered here by React, which escapes all text
    <div className={className} dangerouslySetInnerHTML={{ __html: renderToStaticMarkup(children) }} />
  );
}

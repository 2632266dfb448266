import type { ReactNode } from 'react';

export interface PagePart {
  id: string;
  title: string;
  section: ReactNode;
}

/** Parts beyond these are laid out when they come near the window. */
const SEEN_AT_ONCE = 2;

/**
 * A long page with its contents: in the margin where there is one, where they stay in view, else a list to jump by.
 * What is not there is left out of both.
 */
export function PageContents({ parts }: { parts: readonly (PagePart | undefined)[] }) {
  const present = parts.filter((part): part is PagePart => part !== undefined);
  const links = (
    <ul className="text-sm">
      {present.map(({ id, title }) => (
        <li key={id}>
          <a className="link inline-flex min-h-8 items-center py-0.5" href={`#${id}`}>
            {title}
          </a>
        </li>
      ))}
    </ul>
  );
  return (
    <div className="not-print:xl:grid xl:grid-cols-[11rem_minmax(0,1fr)] xl:gap-10">
      <nav aria-label="On this page" className="no-print">
        <details className="xl:hidden">
          <summary className="disclosure">On this page</summary>
          <div className="mt-2">{links}</div>
        </details>
        <div className="sticky top-4 hidden max-h-[calc(100dvh-2rem)] overflow-y-auto border-t border-rule-strong pt-4 xl:block">
          {links}
        </div>
      </nav>
      <div className="min-w-0">
        {present.map(({ id, section }, index) => (
          // Each section is the first of its own frame, so the frames keep them apart.
          <div key={id} className={`mt-10 first:mt-0 ${index < SEEN_AT_ONCE ? '' : 'laid-out-late'}`}>
            {section}
          </div>
        ))}
      </div>
    </div>
  );
}

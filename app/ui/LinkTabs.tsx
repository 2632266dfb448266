import type { ReactNode } from 'react';
import { Link } from './Link';

export interface LinkTab {
  href: string;
  label: ReactNode;
  current?: boolean;
  /** How many things lie behind it. */
  count?: number;
}

/** Views of one page, each at its own address. */
export function LinkTabs({ label, tabs }: { label: string; tabs: readonly LinkTab[] }) {
  return (
    <nav aria-label={label} className="no-print mb-6">
      <ul className="ruled-rows flex flex-wrap gap-x-1">
        {tabs.map((tab) => (
          <li key={tab.href}>
            <Link
              href={tab.href}
              aria-current={tab.current ? 'page' : undefined}
              className="flex min-h-11 items-center gap-1.5 border-b-3 border-transparent px-3 text-sm hover:border-rule-strong aria-[current=page]:border-accent aria-[current=page]:font-semibold"
            >
              {tab.label}
              {tab.count === undefined ? null : <span className="num text-ink-soft">{tab.count}</span>}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}

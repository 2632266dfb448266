import type { ReactNode } from 'react';
import { unbroken } from '../unbroken';

export interface LegendItem {
  /** A mark drawn in a box of 28 × 12. */
  mark: ReactNode;
  label: string;
}

/** Which mark means what, in words beside the mark itself. */
export function Legend({ items }: { items: readonly LegendItem[] }) {
  return (
    <ul className="mb-2 flex flex-wrap gap-x-5 gap-y-1 text-sm text-ink-soft">
      {items.map((item) => (
        <li key={item.label} className="inline-flex items-center gap-2">
          <svg
            viewBox="0 0 28 12"
            className="figure-svg h-3 w-7 shrink-0 overflow-visible"
            aria-hidden="true"
            focusable="false"
          >
            {item.mark}
          </svg>
          {unbroken(item.label)}
        </li>
      ))}
    </ul>
  );
}

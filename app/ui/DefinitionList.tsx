import type { ReactNode } from 'react';
import { unbroken } from './unbroken';

export interface Definition {
  term: string;
  description: ReactNode;
  /** Where it comes from, how it was got. */
  note?: ReactNode;
}

interface DefinitionListProps {
  items: readonly Definition[];
  /** Two side by side where there is room. */
  columns?: 1 | 2;
}

/** Facts by name, one thin rule each. */
export function DefinitionList({ items, columns = 1 }: DefinitionListProps) {
  return (
    <div className="@container">
      <dl className={columns === 2 ? 'grid gap-x-10 @2xl:grid-cols-2' : ''}>
        {items.map((item) => (
          <div
            key={item.term}
            className="grid grid-cols-[minmax(7rem,2fr)_minmax(0,3fr)] items-baseline gap-x-4 border-b border-rule py-2 text-sm"
          >
            <dt className="min-w-0 break-words text-ink-soft">{unbroken(item.term)}</dt>
            <dd className="num min-w-0 font-medium break-words @md:text-right">
              {unbroken(item.description)}
              {item.note ? (
                <span className="block font-normal text-ink-soft">{unbroken(item.note)}</span>
              ) : null}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

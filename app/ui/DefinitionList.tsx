import type { ReactNode } from 'react';

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
            className="flex flex-wrap justify-between gap-x-4 border-b border-rule py-2 text-sm"
          >
            <dt className="text-ink-soft">{item.term}</dt>
            <dd className="num text-right font-medium">
              {item.description}
              {item.note ? <span className="block font-normal text-ink-soft">{item.note}</span> : null}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

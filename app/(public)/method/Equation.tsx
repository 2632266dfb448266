import type { ReactNode } from 'react';

interface EquationProps {
  /** What it gives, for those who hear it. */
  label: string;
  children: ReactNode;
  /** Symbols in the order of appearance. */
  where?: readonly (readonly [symbol: string, meaning: string])[];
}

const scrolling = 'overflow-x-auto border-l-2 border-rule-strong py-1 pl-4';

/** A formula by itself, with its symbols: on one line, that scrolls where it must; on a phone and on paper it wraps. */
export function Equation({ label, children, where = [] }: EquationProps) {
  return (
    <div className="my-4">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard */}
      <section aria-label={label} tabIndex={0} className={scrolling}>
        <p className="font-serif text-lg not-print:sm:whitespace-nowrap">{children}</p>
      </section>
      {where.length === 0 ? null : (
        <dl className="mt-2 grid max-w-[46rem] grid-cols-[auto_1fr] gap-x-4 gap-y-0.5 pl-4 text-sm">
          {where.map(([symbol, meaning]) => (
            <div key={symbol} className="contents">
              <dt className="font-serif">{symbol}</dt>
              <dd className="text-ink-soft">{meaning}</dd>
            </div>
          ))}
        </dl>
      )}
    </div>
  );
}

import type { ReactNode } from 'react';
import { buttonClass } from './buttonClass';
import { Link } from './Link';

interface FiltersProps {
  /** Path the form is sent to by GET, so that the address holds the whole state. */
  action: string;
  /** Fields, laid out in a grid. */
  children: ReactNode;
  /** What is in force now, each with the address that takes it away. */
  applied?: readonly { label: string; removeHref: string }[];
  resetHref?: string;
  submitText?: string;
  label?: string;
  /** Values to carry along that have no visible field. */
  hidden?: Readonly<Record<string, string>>;
  /** Start folded away; what is in force stays visible. */
  collapsed?: boolean;
}

/** A GET form of filters that works without scripts. */
export function Filters({
  action,
  children,
  applied = [],
  resetHref,
  submitText = 'Apply',
  label = 'Filters',
  hidden = {},
  collapsed = false,
}: FiltersProps) {
  return (
    <div className="no-print mb-8 border-y border-rule py-3">
      <details open={!collapsed} className="group">
        <summary className="disclosure">{label}</summary>
        <form action={action} method="get" className="mt-3" aria-label={label}>
          {Object.entries(hidden).map(([name, value]) => (
            <input key={name} type="hidden" name={name} value={value} />
          ))}
          <div className="grid grid-cols-[repeat(auto-fill,minmax(min(100%,13rem),1fr))] items-start gap-x-6 gap-y-4">
            {children}
          </div>
          <div className="mt-4 flex flex-wrap items-center gap-4">
            <button type="submit" className={buttonClass('primary')}>
              {submitText}
            </button>
            {resetHref ? (
              <Link href={resetHref} className="link inline-flex min-h-11 items-center text-sm">
                Clear all
              </Link>
            ) : null}
          </div>
        </form>
      </details>
      {applied.length > 0 ? (
        <ul aria-label="In force" className="mt-3 flex flex-wrap gap-2 text-sm">
          {applied.map((item) => (
            <li key={item.label}>
              <Link
                href={item.removeHref}
                className="inline-flex min-h-8 items-center gap-2 border border-rule-strong px-2.5 hover:border-ink"
              >
                {item.label}
                <span aria-hidden="true">×</span>
                <span className="sr-only">, remove</span>
              </Link>
            </li>
          ))}
        </ul>
      ) : null}
    </div>
  );
}

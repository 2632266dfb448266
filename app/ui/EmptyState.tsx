import type { ReactNode } from 'react';

interface EmptyStateProps {
  /** What is missing. */
  title: ReactNode;
  /** Why, and what to do about it. */
  children?: ReactNode;
  action?: ReactNode;
}

/** Stands where a list or a figure would be, between two dashed rules. */
export function EmptyState({ title, children, action }: EmptyStateProps) {
  return (
    <div className="my-4 border-y border-dashed border-rule-strong py-8">
      <p className="font-serif text-lg font-semibold">{title}</p>
      {children ? <div className="mt-2 max-w-[38rem] text-ink-soft">{children}</div> : null}
      {action ? <div className="mt-4 flex flex-wrap gap-3">{action}</div> : null}
    </div>
  );
}

import type { ReactNode } from 'react';

/** One row that stays at the foot of the screen, with the way on and what is kept. */
export function FootBar({ children }: { children: ReactNode }) {
  return (
    <div
      data-foot-bar
      className="sticky bottom-0 z-10 mt-6 -mx-4 flex h-14 items-center gap-3 border-t border-rule-strong bg-paper px-4"
    >
      {children}
    </div>
  );
}

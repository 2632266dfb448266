import type { ReactNode } from 'react';
import { unbroken } from './unbroken';

interface DisclosureProps {
  title: ReactNode;
  /** What lies behind it, in a sentence of everyday words: the terms of specialists stand only below. */
  says?: ReactNode;
  children: ReactNode;
}

/** The machinery behind an answer, for those who ask: folded on a screen, open in print. */
export function Disclosure({ title, says, children }: DisclosureProps) {
  return (
    <details className="mt-4 min-w-0 text-sm">
      <summary className="disclosure">{unbroken(title)}</summary>
      {says === undefined ? null : <p className="mt-2 mb-4 max-w-[46rem]">{unbroken(says)}</p>}
      {children}
    </details>
  );
}

'use client';

import { useEffect, useRef } from 'react';

export interface SummaryError {
  /** Id of the control to go to. */
  fieldId: string;
  message: string;
}

interface ErrorSummaryProps {
  errors: readonly SummaryError[];
  title?: string;
}

/** What stopped a form, at its top: takes the focus when it appears and leads to each field. */
export function ErrorSummary({ errors, title }: ErrorSummaryProps) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (errors.length === 0) return;
    for (const { fieldId } of errors) unfold(document.getElementById(fieldId));
    // A list longer than the screen would come to rest by its end, without its heading.
    box.current?.focus({ preventScroll: true });
    box.current?.scrollIntoView({ block: 'start' });
  }, [errors]);
  if (errors.length === 0) return null;
  const heading =
    title ?? (errors.length === 1 ? 'One entry needs a look' : `${errors.length} entries need a look`);
  return (
    <div
      ref={box}
      role="alert"
      tabIndex={-1}
      aria-labelledby="error-summary-title"
      className="my-6 first:mt-0 max-w-[46rem] border-2 border-problem bg-problem-wash px-5 py-4"
    >
      <h2 id="error-summary-title" className="text-lg">
        {heading}
      </h2>
      <ul className="mt-2">
        {errors.map((error) => (
          <li key={`${error.fieldId} ${error.message}`}>
            <a href={`#${error.fieldId}`} className="inline-flex min-h-8 items-center text-problem underline">
              {error.message}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** A field that is named in the summary is not hidden in a folded group. */
function unfold(field: HTMLElement | null): void {
  for (let group = field?.closest('details'); group; group = group.parentElement?.closest('details')) {
    group.open = true;
  }
}

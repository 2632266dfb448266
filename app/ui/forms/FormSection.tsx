import type { ReactNode } from 'react';

interface FormSectionProps {
  legend: ReactNode;
  children: ReactNode;
  hint?: ReactNode;
  /** Where it stands in the form, for example 2 of 5. */
  step?: { number: number; of: number };
  id?: string;
  /** Side note on how much of it is filled in, for example "3 of 4 entered". */
  progress?: ReactNode;
}

/** A fieldset of a longer form: its legend, its place among the others, its fields in a column. */
export function FormSection({ legend, children, hint, step, id, progress }: FormSectionProps) {
  return (
    <fieldset id={id} className="mt-8 border-t border-rule-strong pt-4 first:mt-0">
      <legend className="float-left mb-1 w-full">
        <span className="flex flex-wrap items-baseline justify-between gap-x-6">
          <span className="font-serif text-xl font-semibold">{legend}</span>{' '}
          <span className="num text-sm text-ink-soft">
            {step ? `Part ${step.number} of ${step.of}` : null}
            {step && progress ? ' · ' : null}
            {progress}
          </span>
        </span>
      </legend>
      {hint ? <div className="clear-both max-w-[38rem] text-sm text-ink-soft">{hint}</div> : null}
      <div className="clear-both space-y-6 pt-3">{children}</div>
    </fieldset>
  );
}

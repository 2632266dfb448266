import type { ReactNode } from 'react';
import { Sign } from '../Sign';

/** What is wrong, why that matters and how to put it right. */
export interface FieldError {
  what: string;
  why?: string;
  fix?: string;
}

/** 'field' is the big, one-thumb size of the field card. */
export type FieldSize = 'normal' | 'field';

/** Attributes that tie a control to its label, hint and error; spread them on the control. */
export interface ControlProps {
  id: string;
  required?: boolean;
  'aria-describedby'?: string;
  'aria-invalid'?: true;
}

interface FieldProps {
  /** Id of the control; hint and error derive theirs from it. */
  id: string;
  label: ReactNode;
  hint?: ReactNode;
  error?: FieldError;
  required?: boolean;
  size?: FieldSize;
  /** Seen over a column of such fields already; said to those who cannot see it all the same. */
  isLabelHidden?: boolean;
  children: (control: ControlProps) => ReactNode;
}

/** Label, hint, control and error of one input, tied together for assistive technology. */
export function Field({
  id,
  label,
  hint,
  error,
  required,
  size = 'normal',
  isLabelHidden = false,
  children,
}: FieldProps) {
  const hintId = `${id}-hint`;
  const errorId = `${id}-error`;
  const described = [hint ? hintId : '', error ? errorId : ''].filter(Boolean).join(' ');
  return (
    <div className={error ? 'border-l-4 border-problem pl-3' : ''}>
      <label
        htmlFor={id}
        className={
          isLabelHidden ? 'sr-only' : `block font-semibold ${size === 'field' ? 'text-lg' : 'text-sm'}`
        }
      >
        {label}
        <RequiredMark required={required} />
      </label>
      {hint ? <FieldHint id={hintId}>{hint}</FieldHint> : null}
      {error ? <FieldErrorText id={errorId} error={error} /> : null}
      <div className="mt-1.5">
        {children({
          id,
          required: required || undefined,
          'aria-describedby': described || undefined,
          'aria-invalid': error ? true : undefined,
        })}
      </div>
    </div>
  );
}

/** The control is marked `required` for assistive technology; this is the word for eyes. */
export function RequiredMark({ required }: { required?: boolean }) {
  if (!required) return null;
  return (
    <span aria-hidden="true" className="ml-1.5 text-xs font-normal text-ink-soft">
      required
    </span>
  );
}

export function FieldHint({ id, children }: { id: string; children: ReactNode }) {
  return (
    <div id={id} className="max-w-[34rem] text-sm text-ink-soft">
      {children}
    </div>
  );
}

export function FieldErrorText({ id, error }: { id: string; error: FieldError }) {
  return (
    <p id={id} className="mt-1 flex max-w-[34rem] gap-2 text-sm text-problem">
      <Sign kind="fail" className="mt-0.5 size-4 shrink-0" />
      <span>
        <span className="sr-only">Error: </span>
        <span className="font-semibold">{error.what}</span>
        {error.why ? ` ${error.why}` : null}
        {error.fix ? ` ${error.fix}` : null}
      </span>
    </p>
  );
}

const control =
  'rounded-sm border border-rule-strong bg-sheet text-ink placeholder:text-ink-soft focus-visible:outline-offset-1 aria-invalid:border-2 aria-invalid:border-problem disabled:bg-wash disabled:text-ink-soft';

export function controlClass(size: FieldSize = 'normal'): string {
  return `${control} ${size === 'field' ? 'min-h-14 px-4 text-xl' : 'min-h-11 px-3 text-base'}`;
}

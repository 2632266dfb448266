import type { ReactNode } from 'react';
import { type FieldError, FieldErrorText, FieldHint, type FieldSize, RequiredMark } from './Field';

export interface CheckFieldProps {
  name: string;
  label: ReactNode;
  id?: string;
  hint?: ReactNode;
  error?: FieldError;
  required?: boolean;
  /** Sent when ticked. */
  value?: string;
  defaultChecked?: boolean;
  checked?: boolean;
  onCheckedChange?: (checked: boolean) => void;
  size?: FieldSize;
}

/** One yes-or-no box. */
export function CheckField({
  name,
  id = name,
  label,
  hint,
  error,
  required,
  value = 'yes',
  onCheckedChange,
  size = 'normal',
  ...rest
}: CheckFieldProps) {
  const described =
    [hint ? `${id}-hint` : '', error ? `${id}-error` : ''].filter(Boolean).join(' ') || undefined;
  const big = size === 'field';
  return (
    <div className={error ? 'border-l-4 border-problem pl-3' : ''}>
      <div className="flex items-start gap-2.5">
        <input
          {...rest}
          id={id}
          type="checkbox"
          name={name}
          value={value}
          required={required}
          aria-describedby={described}
          aria-invalid={error ? true : undefined}
          onChange={onCheckedChange ? (event) => onCheckedChange(event.target.checked) : undefined}
          className={`shrink-0 accent-accent ${big ? 'mt-3 size-7' : 'mt-2 size-5'}`}
        />
        <label htmlFor={id} className={`flex-1 ${big ? 'min-h-12 py-3 text-lg' : 'min-h-9 py-1'}`}>
          {label}
          <RequiredMark required={required} />
        </label>
      </div>
      {hint ? (
        <div className="pl-8">
          <FieldHint id={`${id}-hint`}>{hint}</FieldHint>
        </div>
      ) : null}
      {error ? <FieldErrorText id={`${id}-error`} error={error} /> : null}
    </div>
  );
}

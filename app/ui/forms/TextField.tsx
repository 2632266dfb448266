import type { HTMLInputAutoCompleteAttribute, ReactNode } from 'react';
import { controlClass, Field, type FieldError, type FieldSize } from './Field';

export interface TextFieldProps {
  name: string;
  label: ReactNode;
  /** Defaults to the name. */
  id?: string;
  hint?: ReactNode;
  error?: FieldError;
  required?: boolean;
  defaultValue?: string;
  /** For a controlled field. */
  value?: string;
  onValueChange?: (value: string) => void;
  type?: 'text' | 'email' | 'password' | 'search' | 'url' | 'date' | 'time' | 'datetime-local' | 'tel';
  multiline?: boolean;
  rows?: number;
  autoComplete?: HTMLInputAutoCompleteAttribute;
  inputMode?: 'text' | 'email' | 'search' | 'url' | 'numeric' | 'decimal';
  maxLength?: number;
  minLength?: number;
  spellCheck?: boolean;
  placeholder?: string;
  readOnly?: boolean;
  size?: FieldSize;
}

/** One line or several lines of text, a date or a time. */
export function TextField({
  name,
  id = name,
  label,
  hint,
  error,
  required,
  size,
  multiline = false,
  rows = 4,
  type = 'text',
  onValueChange,
  ...rest
}: TextFieldProps) {
  const short = type === 'date' || type === 'time' || type === 'datetime-local';
  return (
    <Field id={id} label={label} hint={hint} error={error} required={required} size={size}>
      {(control) =>
        multiline ? (
          <textarea
            {...rest}
            {...control}
            name={name}
            rows={rows}
            onChange={onValueChange ? (event) => onValueChange(event.target.value) : undefined}
            className={`${controlClass(size)} w-full max-w-[38rem] py-2`}
          />
        ) : (
          <input
            {...rest}
            {...control}
            name={name}
            type={type}
            onChange={onValueChange ? (event) => onValueChange(event.target.value) : undefined}
            className={`${controlClass(size)} ${short ? 'w-auto max-w-full' : 'w-full max-w-[28rem]'}`}
          />
        )
      }
    </Field>
  );
}

import type { ReactNode } from 'react';
import { Field, type FieldError, type FieldSize } from './Field';

export interface FileFieldProps {
  name: string;
  label: ReactNode;
  id?: string;
  /** Say which kinds and how large. */
  hint?: ReactNode;
  error?: FieldError;
  required?: boolean;
  accept?: string;
  multiple?: boolean;
  /** On a phone, open the camera at once. */
  capture?: 'environment' | 'user';
  onFiles?: (files: FileList | null) => void;
  size?: FieldSize;
}

export function FileField({
  name,
  id = name,
  label,
  hint,
  error,
  required,
  size,
  onFiles,
  ...rest
}: FileFieldProps) {
  return (
    <Field id={id} label={label} hint={hint} error={error} required={required} size={size}>
      {(control) => (
        <input
          {...rest}
          {...control}
          type="file"
          name={name}
          onChange={onFiles ? (event) => onFiles(event.target.files) : undefined}
          className={`block w-full max-w-[38rem] border border-dashed border-rule-strong bg-sheet p-2 text-sm aria-invalid:border-problem file:mr-3 file:rounded-sm file:border file:border-solid file:border-rule-strong file:bg-wash file:px-3 file:font-semibold file:text-ink ${size === 'field' ? 'file:min-h-12' : 'file:min-h-9'}`}
        />
      )}
    </Field>
  );
}

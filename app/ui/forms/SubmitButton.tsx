'use client';

import type { ReactNode } from 'react';
import { useFormStatus } from 'react-dom';
import { type ButtonSize, type ButtonVariant, buttonClass } from '../buttonClass';

interface SubmitButtonProps {
  children: ReactNode;
  /** What it says while the form is on its way. */
  pendingText?: string;
  variant?: ButtonVariant;
  size?: ButtonSize;
  name?: string;
  value?: string;
  /** Send without the browser's own checks: for saving a draft. */
  formNoValidate?: boolean;
  disabled?: boolean;
  formAction?: (data: FormData) => void | Promise<void>;
}

/** Sends its form once: while that is pending it keeps its place and focus and refuses a second press. */
export function SubmitButton({
  children,
  pendingText = 'Sending…',
  variant = 'primary',
  size = 'normal',
  ...rest
}: SubmitButtonProps) {
  const { pending } = useFormStatus();
  return (
    <button
      type="submit"
      className={buttonClass(variant, size)}
      aria-disabled={pending || undefined}
      onClick={(event) => {
        if (pending) event.preventDefault();
      }}
      {...rest}
    >
      <span aria-live="polite">{pending ? pendingText : children}</span>
    </button>
  );
}

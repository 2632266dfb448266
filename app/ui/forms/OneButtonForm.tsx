'use client';

import { type ReactNode, useActionState } from 'react';
import { type FormState, UNTOUCHED } from './formState';

interface OneButtonFormProps {
  action: (state: FormState, data: FormData) => Promise<FormState>;
  children: ReactNode;
  className: string;
}

/** A form of one line whose answer stands behind its button. */
export function OneButtonForm({ action, children, className }: OneButtonFormProps) {
  const [state, submit] = useActionState(action, UNTOUCHED);
  return (
    <form action={submit} className={`flex flex-wrap items-center ${className}`}>
      {children}
      <span role="status" className="text-sm">
        {state.title || state.done || ''}
      </span>
    </form>
  );
}

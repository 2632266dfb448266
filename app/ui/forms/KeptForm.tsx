'use client';

import { type ReactNode, startTransition, useEffect, useRef } from 'react';

interface KeptFormProps {
  /** The second thing that `useActionState` returns: without scripts the form posts to it by itself. */
  dispatch: (data: FormData) => void;
  children: ReactNode;
  label: string;
  className?: string;
  /** The answer after which the form stays open and starts anew; what was typed is of no use then. */
  finishedBy?: object;
}

/** A form with a server action that keeps what was typed: React would empty it after every answer. */
export function KeptForm({ dispatch, children, label, className, finishedBy }: KeptFormProps) {
  const form = useRef<HTMLFormElement>(null);
  useEffect(() => {
    if (finishedBy) form.current?.reset();
  }, [finishedBy]);
  return (
    <form
      ref={form}
      action={dispatch}
      aria-label={label}
      className={className}
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        const data = new FormData(event.currentTarget, submitterOf(event.nativeEvent));
        startTransition(() => dispatch(data));
      }}
    >
      {children}
    </form>
  );
}

export function submitterOf(event: Event): HTMLElement | null {
  return 'submitter' in event && event.submitter instanceof HTMLElement ? event.submitter : null;
}

'use client';

import { type ReactNode, useActionState } from 'react';
import { Notice } from '../Notice';
import type { FieldError } from './Field';
import { FormFrame } from './FormFrame';
import { errorOf } from './fieldErrors';
import { type FormState, UNTOUCHED } from './formState';

export interface FormHelp {
  /** What was typed before the error, or the default. */
  value: (name: string, fallback?: string) => string;
  error: (name: string) => FieldError | undefined;
  state: FormState;
}

interface ActionFormProps {
  action: (state: FormState, data: FormData) => Promise<FormState>;
  children: (help: FormHelp) => ReactNode;
  label: string;
}

/** A form over a server action that looks after its own state. Works without scripts. */
export function ActionForm({ action, children, label }: ActionFormProps) {
  const [state, dispatch] = useActionState(action, UNTOUCHED);
  return (
    <FormFrame label={label} state={state} dispatch={dispatch} className="max-w-xl">
      {state.done ? <Notice kind="done" title={state.done} live /> : null}
      {children({
        value: (name, fallback = '') => state.values[name] ?? fallback,
        error: (name) => errorOf(state.issues, name),
        state,
      })}
    </FormFrame>
  );
}

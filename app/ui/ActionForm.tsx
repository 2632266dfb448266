'use client';

import { type ReactNode, useActionState } from 'react';
import type { InputIssue } from '@/lib/run/errors';
import { EMPTY_FORM_STATE, type FormState } from '../visitor/formState';
import { ErrorSummary } from './ErrorSummary';
import type { FieldError } from './Field';
import { Notice } from './Notice';

export interface FormHelp {
  /** What was typed before the error, or the default. */
  value: (name: string, fallback?: string) => string;
  error: (name: string) => FieldError | undefined;
  state: FormState;
}

interface ActionFormProps {
  action: (state: FormState, data: FormData) => Promise<FormState>;
  children: (help: FormHelp) => ReactNode;
  'aria-label'?: string;
}

/** A form over a server action: summary of errors, errors beside fields, nothing typed lost. Works without scripts. */
export function ActionForm({ action, children, ...rest }: ActionFormProps) {
  const [state, submit] = useActionState(action, EMPTY_FORM_STATE);
  const issues = state.problem?.issues ?? [];
  const help: FormHelp = {
    value: (name, fallback = '') => state.values?.[name] ?? fallback,
    error: (name) => asFieldError(issues.find((issue) => issue.path === name)),
    state,
  };
  return (
    <form action={submit} className="max-w-xl space-y-6" noValidate {...rest}>
      {issues.length > 0 ? (
        <ErrorSummary
          title={state.problem?.title}
          errors={issues.map((issue) => ({ fieldId: issue.path, message: issue.what }))}
        />
      ) : state.problem ? (
        <Notice kind="problem" title={state.problem.title} live />
      ) : null}
      {state.done ? <Notice kind="done" title={state.done} live /> : null}
      {children(help)}
    </form>
  );
}

function asFieldError(issue: InputIssue | undefined): FieldError | undefined {
  return issue && { what: issue.what, why: issue.why, fix: issue.fix };
}

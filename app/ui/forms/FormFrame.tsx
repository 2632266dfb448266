'use client';

import { type ReactNode, useMemo } from 'react';
import { Notice } from '@/app/ui/Notice';
import { ErrorSummary } from './ErrorSummary';
import { inOrder, summaryOf } from './fieldErrors';
import type { FormState } from './formState';
import { KeptForm } from './KeptForm';
import { SubmitButton } from './SubmitButton';

interface FormFrameProps {
  label: string;
  state: FormState;
  dispatch: (data: FormData) => void;
  /** Its one button, unless the fields bring buttons of their own. */
  submitText?: string;
  children: ReactNode;
  /** Names of the fields from top to bottom, where the action does not tell issues in that order already. */
  order?: readonly string[];
  /** The run that waits for what is added here. */
  run?: string;
  className?: string;
}

const AS_TOLD: readonly string[] = [];

/** Summary of errors, fields, one button. */
export function FormFrame({
  label,
  state,
  dispatch,
  submitText,
  children,
  order = AS_TOLD,
  run,
  className,
}: FormFrameProps) {
  return (
    <KeptForm
      dispatch={dispatch}
      label={label}
      className={className}
      finishedBy={state.done ? state : undefined}
    >
      {state.title && state.issues.length === 0 ? <Notice kind="problem" title={state.title} live /> : null}
      <ErrorSummary
        errors={useMemo(() => summaryOf(inOrder(state.issues, order)), [state, order])}
        title={state.title}
      />
      {run ? <input type="hidden" name="run" value={run} /> : null}
      <div className="space-y-6">{children}</div>
      {submitText ? (
        <div className="mt-8">
          <SubmitButton>{submitText}</SubmitButton>
        </div>
      ) : null}
    </KeptForm>
  );
}

'use client';

import { type ReactNode, useMemo } from 'react';
import { ErrorSummary } from '@/app/ui/ErrorSummary';
import { Notice } from '@/app/ui/Notice';
import { SubmitButton } from '@/app/ui/SubmitButton';
import { ActionForm } from './ActionForm';
import { summaryOf } from './fieldErrors';
import type { FormState } from './formState';

interface FormFrameProps {
  label: string;
  state: FormState;
  dispatch: (data: FormData) => void;
  submitText: string;
  children: ReactNode;
  /** The run that waits for what is added here. */
  run?: string;
}

/** Summary of errors, fields, one button. */
export function FormFrame({ label, state, dispatch, submitText, children, run }: FormFrameProps) {
  return (
    <ActionForm dispatch={dispatch} label={label}>
      {state.title && state.issues.length === 0 ? <Notice kind="problem" title={state.title} live /> : null}
      <ErrorSummary errors={useMemo(() => summaryOf(state.issues), [state])} title={state.title} />
      {run ? <input type="hidden" name="run" value={run} /> : null}
      <div className="space-y-6">{children}</div>
      <div className="mt-8">
        <SubmitButton>{submitText}</SubmitButton>
      </div>
    </ActionForm>
  );
}

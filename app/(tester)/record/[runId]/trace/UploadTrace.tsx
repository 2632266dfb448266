'use client';

import { useRouter } from 'next/navigation';
import { type SubmitEvent, useState } from 'react';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import type { FieldError } from '@/app/ui/forms/Field';
import { FileField } from '@/app/ui/forms/FileField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { type SentTrace, sendTrace } from './sendTrace';
import { COLUMN_ROWS, TRACE_LIMIT_TEXT, TRACE_TYPES } from './traceFields';

interface UploadTraceProps {
  /** Where the form is posted. */
  to: string;
  /** The page that shows what was made of it. */
  then: string;
  isReplacing: boolean;
  /** A loop is to be made from it: it belongs to no run. */
  isForLoop?: boolean;
}

/** Sends a recording. With scripts its faults are told beside the fields; without, the page says them in general. */
export function UploadTrace({ to, then, isReplacing, isForLoop = false }: UploadTraceProps) {
  const router = useRouter();
  const [answer, setAnswer] = useState<SentTrace>();
  const [isSending, setSending] = useState(false);
  const errorOf = (path: string): FieldError | undefined =>
    answer?.issues.find((issue) => issue.path === path);
  const columnsAreWrong = answer?.issues.some((issue) => issue.path.startsWith('columns.')) ?? false;

  const send = async (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (isSending) return;
    setSending(true);
    const sent = await sendTrace(to, new FormData(event.currentTarget));
    setSending(false);
    setAnswer(sent);
    if (!sent.ok) return;
    router.replace(`${then}?${isForLoop ? `trace=${sent.traceId}` : 'notice=added'}`);
    router.refresh();
  };

  return (
    <form
      action={to}
      method="post"
      encType="multipart/form-data"
      aria-label="Recording"
      onSubmit={send}
      className="space-y-6"
    >
      <FileField
        name="trace"
        label={isReplacing ? 'Another recording in its place' : 'Recording'}
        hint={`GPX 1.1, CSV or GeoJSON with a time at every point, up to ${TRACE_LIMIT_TEXT}.`}
        accept={TRACE_TYPES}
        required
        error={errorOf('trace')}
      />
      <details open={columnsAreWrong}>
        <summary className="disclosure">Columns of a CSV</summary>
        <p className="max-w-[38rem] text-sm text-ink-soft">
          Each by its head, or by its number counted from 1. Left empty, usual heads are understood and those
          that you named before are remembered.
        </p>
        <div className="mt-4 space-y-4">
          {COLUMN_ROWS.map(({ column, label, choice }) => (
            <div key={column} className="grid items-start gap-x-10 gap-y-4 sm:grid-cols-2">
              <TextField
                name={`columns.${column}`}
                label={label}
                autoComplete="off"
                maxLength={200}
                error={errorOf(`columns.${column}`)}
              />
              {choice ? (
                <ChoiceField
                  name={`columns.${choice.column}`}
                  label={choice.label}
                  options={choice.options}
                />
              ) : null}
            </div>
          ))}
        </div>
      </details>
      <SubmitButton disabled={isSending}>{isSending ? 'Reading…' : 'Send the recording'}</SubmitButton>
      <p role="status" className="min-h-6 text-sm">
        {isSending ? 'The recording is being sent and read.' : (answer?.title ?? '')}
      </p>
    </form>
  );
}

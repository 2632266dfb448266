'use client';

import { useId, useRef, useState, useSyncExternalStore } from 'react';
import { Button } from '@/app/ui/Button';

interface CopyTextProps {
  label: string;
  text: string;
  rows: number;
  /** What is said under it: how long it may be. */
  note?: string;
}

const never = () => () => undefined;

/** A text to be taken along: it can be selected as it stands, and where scripts run a button copies it. */
export function CopyText({ label, text, rows, note }: CopyTextProps) {
  const id = useId();
  const field = useRef<HTMLTextAreaElement>(null);
  const [said, setSaid] = useState('');
  const hasScripts = useSyncExternalStore(
    never,
    () => true,
    () => false,
  );
  const copy = async () => {
    try {
      await navigator.clipboard.writeText(text);
      setSaid('Copied.');
    } catch {
      // Without HTTPS, or where the browser does not let a page do it.
      field.current?.select();
      setSaid('Selected: copy it with the keyboard.');
    }
  };
  return (
    <div className="mb-6 max-w-[46rem]">
      <label htmlFor={id} className="mb-1 block font-semibold">
        {label}
      </label>
      <textarea
        ref={field}
        id={id}
        readOnly
        rows={rows}
        value={text}
        className="w-full border border-rule-strong bg-sheet px-3 py-2 text-sm"
      />
      <div className="mt-1 flex flex-wrap items-center gap-x-4 gap-y-1">
        {hasScripts ? (
          <Button onClick={copy} aria-label={`Copy: ${label}`}>
            Copy
          </Button>
        ) : null}
        {note ? <span className="text-sm text-ink-soft">{note}</span> : null}
        <span role="status" className="text-sm">
          {said}
        </span>
      </div>
    </div>
  );
}

import type { ReactNode } from 'react';
import { type ShownStatus, StatusTag } from '../StatusTag';

export interface TimelineEntry {
  key: string;
  state: ShownStatus;
  /** Other words for the state, such as "Resubmitted, revision 2". */
  label?: string;
  /** For machines and for people. */
  when: { dateTime: string; text: string };
  by?: ReactNode;
  /** Reason, rule, difference. */
  note?: ReactNode;
}

interface StateTimelineProps {
  /** Names the list. */
  label: string;
  /** Oldest first. */
  entries: readonly TimelineEntry[];
}

/** What happened to a run, in order, with who, when and why. */
export function StateTimeline({ label, entries }: StateTimelineProps) {
  return (
    <ol aria-label={label} className="ml-1.5 border-l border-rule-strong">
      {entries.map((entry) => (
        <li key={entry.key} className="relative pb-5 pl-6 last:pb-0">
          <span aria-hidden="true" className="absolute top-3 left-0 h-px w-4 bg-rule-strong" />
          <div className="flex flex-wrap items-baseline gap-x-4">
            <StatusTag state={entry.state} label={entry.label} />
            <time dateTime={entry.when.dateTime} className="text-sm text-ink-soft">
              {entry.when.text}
            </time>
            {entry.by ? <span className="text-sm text-ink-soft">{entry.by}</span> : null}
          </div>
          {entry.note ? <div className="mt-1 max-w-[38rem] text-sm">{entry.note}</div> : null}
        </li>
      ))}
    </ol>
  );
}

import type { RunStatus } from '@/lib/run/runStatus';

/** A submitted run that a reviewer has taken is shown as such, though its status is still 'submitted'. */
export type ShownStatus = RunStatus | 'claimed';

interface Look {
  word: string;
  ink: string;
  mark: React.ReactNode;
}

const ring = <circle cx="6" cy="6" r="4.75" fill="none" stroke="currentColor" strokeWidth="1.5" />;
const looks: Record<ShownStatus, Look> = {
  draft: {
    word: 'Draft',
    ink: 'text-ink-soft',
    mark: (
      <circle
        cx="6"
        cy="6"
        r="4.75"
        fill="none"
        stroke="currentColor"
        strokeWidth="1.5"
        strokeDasharray="2.4 1.6"
      />
    ),
  },
  submitted: { word: 'Submitted', ink: 'text-ink', mark: ring },
  claimed: {
    word: 'In review',
    ink: 'text-accent',
    mark: (
      <>
        {ring}
        <path d="M6 1.2a4.8 4.8 0 0 1 0 9.6z" fill="currentColor" />
      </>
    ),
  },
  approved: {
    word: 'Approved',
    ink: 'text-done',
    mark: <circle cx="6" cy="6" r="5.5" fill="currentColor" />,
  },
  changesAsked: {
    word: 'Changes asked',
    ink: 'text-caution',
    mark: <path d="M6 .8L11.6 11H.4z" fill="currentColor" />,
  },
  rejected: {
    word: 'Rejected',
    ink: 'text-problem',
    mark: <path d="M.8.8h10.4v10.4H.8z" fill="currentColor" />,
  },
  retracted: {
    word: 'Retracted',
    ink: 'text-problem',
    mark: <path d="M1.5 1.5h9v9h-9zM1.5 10.5l9-9" fill="none" stroke="currentColor" strokeWidth="1.5" />,
  },
  superseded: {
    word: 'Superseded',
    ink: 'text-ink-soft',
    mark: <path d="M.8 4.2h7v7h-7zM4.2 4V.8h7v7H8" fill="none" stroke="currentColor" strokeWidth="1.4" />,
  },
};

/** The state of a run, as a small mark (how far along) and a word. */
export function StatusTag({ state, label }: { state: ShownStatus; label?: string }) {
  const look = looks[state];
  return (
    <span className={`inline-flex items-center gap-1.5 whitespace-nowrap text-sm font-semibold ${look.ink}`}>
      <svg viewBox="0 0 12 12" className="size-3 shrink-0" aria-hidden="true" focusable="false">
        {look.mark}
      </svg>
      {label ?? look.word}
    </span>
  );
}

import type { ReactNode } from 'react';
import { Sign, type SignKind } from './Sign';
import { TakeFocus } from './TakeFocus';

export type NoticeKind = 'info' | 'caution' | 'problem' | 'done';

interface NoticeProps {
  kind: NoticeKind;
  title: ReactNode;
  children?: ReactNode;
  /** Announce at once: for an outcome that appears after an action. */
  live?: boolean;
  /** The outcome of a form that led to this page, by which it is told from the next one: it takes the focus. */
  outcome?: string | undefined;
  id?: string;
}

const signOf: Record<NoticeKind, SignKind> = {
  info: 'note',
  caution: 'caution',
  problem: 'fail',
  done: 'pass',
};
const wordOf: Record<NoticeKind, string> = {
  info: 'Note',
  caution: 'Caution',
  problem: 'Problem',
  done: 'Done',
};
const toneOf: Record<NoticeKind, string> = {
  info: 'border-accent bg-wash',
  caution: 'border-caution bg-caution-wash',
  problem: 'border-problem bg-problem-wash',
  done: 'border-done bg-done-wash',
};
const inkOf: Record<NoticeKind, string> = {
  info: 'text-accent',
  caution: 'text-caution',
  problem: 'text-problem',
  done: 'text-done',
};

/** A message set apart from the text: its kind is told by a shape and a spoken word, not by colour alone. */
export function Notice({ kind, title, children, live = false, outcome, id }: NoticeProps) {
  const role = live ? (kind === 'problem' ? 'alert' : 'status') : undefined;
  return (
    <div
      id={id}
      role={role}
      tabIndex={outcome === undefined ? undefined : -1}
      className={`fc-edge my-5 flex first:mt-0 max-w-[46rem] gap-3 border-l-4 px-4 py-3 ${toneOf[kind]}`}
    >
      {outcome === undefined ? null : <TakeFocus on={outcome} />}
      <Sign kind={signOf[kind]} className={`mt-1 size-4.5 shrink-0 ${inkOf[kind]}`} />
      <div className="min-w-0">
        <p className="font-semibold">
          <span className="sr-only">{wordOf[kind]}: </span>
          {title}
        </p>
        {children ? <div className="mt-1 text-sm [&>*+*]:mt-2">{children}</div> : null}
      </div>
    </div>
  );
}

import type { ReactNode } from 'react';
import { unbroken } from './unbroken';

interface SectionProps {
  title: ReactNode;
  /** Anchor of the section; also names it for assistive technology. */
  id: string;
  children: ReactNode;
  /** A side remark: where the numbers come from, what they leave out. */
  note?: ReactNode;
  actions?: ReactNode;
  /** Heading over the content instead of in the margin: for wide tables and figures. */
  wide?: boolean;
}

/**
 * A part of a page under a thin rule. Given room, its heading and note stand in the left margin as
 * in a notebook; on a narrow screen they come first.
 */
export function Section({ title, id, children, note, actions, wide = false }: SectionProps) {
  const headingId = `${id}-title`;
  return (
    <section
      id={id}
      aria-labelledby={headingId}
      className="@container mt-10 border-t border-rule-strong pt-4 first:mt-0"
    >
      <div className={wide ? '' : '@4xl:grid @4xl:grid-cols-[13rem_minmax(0,1fr)] @4xl:gap-10'}>
        <div
          className={
            wide ? 'mb-5 flex flex-wrap items-baseline justify-between gap-x-8 gap-y-1' : 'mb-4 @4xl:mb-0'
          }
        >
          <h2 id={headingId}>{unbroken(title)}</h2>
          {note ? (
            <div
              className={`margin-note text-sm text-ink-soft ${wide ? 'max-w-[38rem]' : 'mt-2 max-w-[38rem]'}`}
            >
              {unbroken(note)}
            </div>
          ) : null}
          {actions ? (
            <div className={wide ? 'flex flex-wrap gap-3' : 'mt-3 flex flex-wrap gap-3'}>{actions}</div>
          ) : null}
        </div>
        <div className="min-w-0">{children}</div>
      </div>
    </section>
  );
}

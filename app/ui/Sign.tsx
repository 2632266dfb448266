export type SignKind = 'pass' | 'caution' | 'fail' | 'notChecked' | 'note';

/** Shapes that differ in outline, so they can be told apart without colour: disc, triangle, square, ring, bar. */
export function Sign({ kind, className }: { kind: SignKind; className?: string }) {
  return (
    <svg viewBox="0 0 16 16" className={className} aria-hidden="true" focusable="false">
      {drawingOf[kind]}
    </svg>
  );
}

const cut = { fill: 'none', stroke: 'var(--paper)', strokeWidth: 1.8 } as const;

const drawingOf: Record<SignKind, React.ReactNode> = {
  pass: (
    <>
      <circle cx="8" cy="8" r="7.5" fill="currentColor" />
      <path d="M4.5 8.3l2.4 2.5 4.6-5.3" {...cut} />
    </>
  ),
  caution: (
    <>
      <path d="M8 .6L15.8 15H.2z" fill="currentColor" />
      <path d="M8 5.4v4.8M8 11.6v1.9" {...cut} />
    </>
  ),
  fail: (
    <>
      <path d="M.8.8h14.4v14.4H.8z" fill="currentColor" />
      <path d="M4.4 4.4l7.2 7.2M11.6 4.4l-7.2 7.2" {...cut} />
    </>
  ),
  notChecked: (
    <circle
      cx="8"
      cy="8"
      r="6.7"
      fill="none"
      stroke="currentColor"
      strokeWidth="1.5"
      strokeDasharray="3 2.2"
    />
  ),
  note: <path d="M6.4 1h3.2v3.2H6.4zM6.4 6h3.2v9H6.4z" fill="currentColor" />,
};

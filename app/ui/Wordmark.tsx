/** The mark: out along one stroke, round the turnaround, back along the other, to the line it began at. */
export function Mark({ className }: { className?: string }) {
  return (
    <svg viewBox="0 0 32 20" className={className} aria-hidden="true" focusable="false">
      <path d="M4 5H23a5 5 0 0 1 0 10H4" fill="none" stroke="var(--accent)" strokeWidth="2.5" />
      <path d="M4 1.5V18.5" fill="none" stroke="var(--ink)" strokeWidth="2.5" />
    </svg>
  );
}

export function Wordmark() {
  return (
    <span className="inline-flex items-center gap-2.5">
      <Mark className="h-5 w-8" />
      <span className="font-serif text-xl font-semibold tracking-tight">Evenloop</span>
    </span>
  );
}

/** First thing in the tab order: jumps past the header. */
export function SkipLink() {
  return (
    <a
      href="#main"
      className="no-print fixed top-2 left-2 z-50 -translate-y-24 bg-accent px-4 py-3 font-semibold text-accent-ink focus:translate-y-0"
    >
      Skip to content
    </a>
  );
}

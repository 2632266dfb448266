const QUIET_MS = 60_000;

/** Reports an error once a minute however often it comes: a database that is away must not fill the disk. */
export function boundedReport(
  write: (error: unknown) => void = console.error,
  nowMs: () => number = () => performance.now(),
): (error: unknown) => void {
  // Bounded by what is forgotten after a minute.
  const lastMs = new Map<string, number>();
  return (error) => {
    const now = nowMs();
    for (const [words, at] of lastMs) if (now - at >= QUIET_MS) lastMs.delete(words);
    const words = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
    if (lastMs.has(words) || lastMs.size >= 100) return;
    lastMs.set(words, now);
    write(error);
  };
}

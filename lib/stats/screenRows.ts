import type { FitRow } from './groupFit';

/** Rows that cannot enter a fit, each with its reason; nothing is dropped silently. */
export function screenRows(rows: readonly FitRow[]): {
  used: FitRow[];
  excluded: { row: FitRow; reason: string }[];
} {
  const used: FitRow[] = [];
  const excluded: { row: FitRow; reason: string }[] = [];
  const seen = new Set<string>();
  for (const row of rows) {
    const reason = reasonAgainst(row, seen);
    if (reason === null) used.push(row);
    else excluded.push({ row, reason });
    if (row.runId !== undefined) seen.add(row.runId);
  }
  return { used, excluded };
}

function reasonAgainst(row: FitRow, seen: ReadonlySet<string>): string | null {
  if (row.setup === '') return 'the setup is missing';
  if (row.car === '') return 'the car is missing';
  if (row.session === '') return 'the session is missing';
  if (!Number.isFinite(row.z)) return 'the value is not a finite number';
  if (!Number.isFinite(row.u) || row.u < 0) return 'the uncertainty is not a finite number of 0 or more';
  if (row.runId !== undefined && seen.has(row.runId)) return 'the run is listed twice';
  return null;
}

import type { FitRow } from './fitRow';
import { type RunColumns, RunColumnsBuilder, rowAt } from './runColumns';

/** Runs that cannot enter a fit, each with its reason; nothing is dropped silently. */
export function screenRows(runs: RunColumns): {
  used: RunColumns;
  excluded: { row: FitRow; reason: string }[];
} {
  const reasons = new Map<number, string>();
  const seen = new Set<string>();
  const unnamed = {
    setup: runs.setup.names.indexOf(''),
    car: runs.car.names.indexOf(''),
    session: runs.session.names.indexOf(''),
  };
  for (let i = 0; i < runs.count; i++) {
    const reason = reasonAgainst(runs, i, unnamed, seen);
    if (reason !== null) reasons.set(i, reason);
    const runId = runs.runIds[i];
    if (runId !== undefined) seen.add(runId);
  }
  if (reasons.size === 0) return { used: runs, excluded: [] };
  const kept = new RunColumnsBuilder();
  for (let i = 0; i < runs.count; i++) if (!reasons.has(i)) kept.add(rowAt(runs, i));
  return {
    used: kept.columns(),
    excluded: [...reasons].map(([i, reason]) => ({ row: rowAt(runs, i), reason })),
  };
}

function reasonAgainst(
  runs: RunColumns,
  i: number,
  unnamed: { setup: number; car: number; session: number },
  seen: ReadonlySet<string>,
): string | null {
  const isUnnamed = (of: 'setup' | 'car' | 'session') =>
    unnamed[of] !== -1 && runs[of].codes[i] === unnamed[of];
  if (isUnnamed('setup')) return 'the setup is missing';
  if (isUnnamed('car')) return 'the car is missing';
  if (isUnnamed('session')) return 'the session is missing';
  const u = runs.u[i] as number;
  if (!Number.isFinite(runs.z[i])) return 'the value is not a finite number';
  if (!Number.isFinite(u) || u < 0) return 'the uncertainty is not a finite number of 0 or more';
  const runId = runs.runIds[i];
  if (runId !== undefined && seen.has(runId)) return 'the run is listed twice';
  return null;
}

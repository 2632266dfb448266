import type { FitRow } from './groupFit';
import { layOutRuns, type Structure } from './structure';

/** A car on a loop: the model's upper random group. */
function carKey(row: FitRow): string {
  return row.loop === undefined ? row.car : `${row.car}\u0000${row.loop}`;
}

/** Screened rows in the order that the criterion sums over. */
export function layOutRows(rows: readonly FitRow[]): Structure {
  return layOutRuns(
    rows.map((row) => ({ setup: row.setup, car: carKey(row), session: row.session, z: row.z, u: row.u })),
  );
}

/** (session, setup) cells that hold two runs or more: where repeatability is seen directly. */
export function replicatedCells(s: Structure): number {
  let cells = 0;
  for (let ses = 0; ses < s.sessions; ses++) {
    const runs = new Map<number, number>();
    for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
      const k = s.cellSetup[i] as number;
      runs.set(k, (runs.get(k) ?? 0) + (s.count[i] as number));
    }
    for (const n of runs.values()) if (n > 1) cells++;
  }
  return cells;
}

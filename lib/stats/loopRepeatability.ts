import { chiSquareLowerQuantile } from '@/lib/numerics/distributions';

/** How well runs of one setup in one session on one loop repeat. */
export interface LoopRepeatability {
  /** Standard deviation of repeated runs, log scale (about a share of the consumption). */
  sr: number;
  /** Its 95 % interval: s √(ν/χ²). */
  low: number;
  high: number;
  /** Repeatability limit 2.8 s (ISO 5725-6:1994, 4.1). */
  limit: number;
  /** Sessions and setups with two runs or more. */
  cells: number;
  dof: number;
}

/** Cells (setup, class and session) with two runs or more: their number, Σ(n − 1) and Σ(z − z̄)², z = ln(Wh/km). */
export interface RepeatedRuns {
  cells: number;
  dof: number;
  squares: number;
}

/**
 * Pooled standard deviation within cells of one setup, class and session: Σ(z − z̄)²/Σ(n − 1), z = ln(normalised)
 * (ISO 5725-2:1994, 7.4.5.1). It holds what the runs' own uncertainty brings in. Null without a repeated run.
 */
export function loopRepeatability({ cells, dof, squares }: RepeatedRuns): LoopRepeatability | null {
  if (dof === 0) return null;
  const sr = Math.sqrt(squares / dof);
  return {
    sr,
    low: sr * Math.sqrt(dof / chiSquareLowerQuantile(0.975, dof)),
    high: sr * Math.sqrt(dof / chiSquareLowerQuantile(0.025, dof)),
    limit: 2.8 * sr,
    cells,
    dof,
  };
}

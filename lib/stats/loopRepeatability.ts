import { chiSquareLowerQuantile } from '@/lib/numerics/distributions';
import { squaresAboutMean } from './anova';
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

interface RepeatedRun {
  sessionId: string;
  setupId: string;
  classKey: string;
  /** Null where the conditions lay outside the method's reach. */
  normalisedWhPerKm: number | null;
}

/**
 * Pooled standard deviation within cells of one setup, class and session: Σ(z − z̄)²/Σ(n − 1), z = ln(normalised)
 * (ISO 5725-2:1994, 7.4.5.1). It holds what the runs' own uncertainty brings in. Null without a repeated run.
 */
export function loopRepeatability(runs: readonly RepeatedRun[]): LoopRepeatability | null {
  const cells = new Map<string, number[]>();
  for (const run of runs) {
    if (run.normalisedWhPerKm === null) continue;
    const key = `${run.sessionId} ${run.setupId} ${run.classKey}`;
    cells.set(key, [...(cells.get(key) ?? []), Math.log(run.normalisedWhPerKm)]);
  }
  const repeated = [...cells.values()].filter((values) => values.length > 1);
  const dof = repeated.reduce((sum, values) => sum + values.length - 1, 0);
  if (dof === 0) return null;
  const squares = repeated.reduce((sum, values) => sum + squaresAboutMean(values), 0);
  const sr = Math.sqrt(squares / dof);
  return {
    sr,
    low: sr * Math.sqrt(dof / chiSquareLowerQuantile(0.975, dof)),
    high: sr * Math.sqrt(dof / chiSquareLowerQuantile(0.025, dof)),
    limit: 2.8 * sr,
    cells: repeated.length,
    dof,
  };
}

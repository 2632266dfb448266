import type { GroupFit } from '@/lib/stats/groupFit';

/** The part of a fit that belongs to the group as a whole. */
export type FitSummary = Omit<GroupFit, 'estimates' | 'contrasts' | 'ranks' | 'excluded'> & {
  excluded: { runId: string | undefined; reason: string }[];
  /** Approved, but outside the method's reach. */
  notNormalised: number;
  /** Too few cars drove two loops: it uses a pooled variance where there is one, and hangs on other classes' runs. */
  usesPooled: boolean;
};

/**
 * A summary as a fit wrote it, through JSON. Fits of the first method had no level of a car on a loop: what they call
 * the variance between cars is of a car on a loop, and stays one number.
 */
export function readFitSummary(stored: unknown): FitSummary {
  const summary = stored as FitSummary & { pooled?: boolean };
  const own = summary.pooled ? 'pooled' : 'own';
  return {
    ...summary,
    components: { ...summary.components, carLoop: summary.components.carLoop ?? 0 },
    origins: summary.origins ?? { car: own, carLoop: 'none', session: own, residual: own },
    sharedEffects: summary.sharedEffects ?? [],
    modelCriticalValues: summary.modelCriticalValues ?? [],
    usesPooled: summary.usesPooled ?? false,
  };
}

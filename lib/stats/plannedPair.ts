import { tUpperQuantile } from '@/lib/numerics/distributions';
import {
  around,
  fitPair,
  type PairBound,
  type PairSession,
  sessionMean,
  sessionsDisagree,
} from './monitoring';
import { detectableDifference, powerOfTest } from './power';

/**
 * What a planned order of runs will be able to say of one pair at its end, by the model that the study is read with
 * (setup + session, method C1). Everything on the log scale.
 */

export interface PlannedPrecision {
  /** Σ 1/h_j with h_j = 1/n_A + 1/n_B over the sessions that hold both. */
  information: number;
  /** Degrees of freedom left for the spread of runs: runs − sessions − 1. */
  df: number;
}

/** Of the orders of a plan, one list of setups a session. Sessions without one of the two count for the spread alone. */
export function plannedPrecision(
  orders: readonly (readonly string[])[],
  baseline: string,
  setup: string,
): PlannedPrecision {
  let [information, df, paired] = [0, 0, 0];
  for (const order of orders) {
    const [a, b] = [setup, baseline].map((name) => order.filter((one) => one === name).length) as [
      number,
      number,
    ];
    df += Math.max(0, a - 1) + Math.max(0, b - 1);
    if (a === 0 || b === 0) continue;
    information += (a * b) / (a + b);
    paired += 1;
  }
  return { information, df: df + Math.max(0, paired - 1) };
}

/** Chance that the interval at the end leaves 0 out, for a true difference; 0 where nothing is left to judge by. */
export function plannedPower(
  { information, df }: PlannedPrecision,
  difference: number,
  runVariance: number,
  alpha: number,
): number {
  if (information === 0 || df < 1) return 0;
  return powerOfTest(difference, Math.sqrt(runVariance / information), df, 1 - alpha);
}

/** The smallest true difference that is found with this chance; null where nothing is left to judge by. */
export function plannedDetectable(
  { information, df }: PlannedPrecision,
  power: number,
  runVariance: number,
  alpha: number,
): number | null {
  if (information === 0 || df < 1) return null;
  return detectableDifference(Math.sqrt(runVariance / information), df, power, 1 - alpha);
}

/**
 * The interval of one look that was planned: Student's t on the residuals of setup + session, or, where sessions disagree
 * on the difference, on the sessions' differences. Null where no session has both.
 */
export function plannedInterval(sessions: readonly PairSession[], alpha: number): PairBound | null {
  const fit = fitPair(sessions);
  if (fit === null) return null;
  const mean = sessionsDisagree(fit) ? sessionMean(sessions) : null;
  if (mean !== null) {
    return around(mean.mean, tUpperQuantile(alpha / 2, mean.n - 1) * mean.standardError, 'sessions');
  }
  if (fit.df < 1) return around(fit.difference, null, 'runs');
  const standardError = Math.sqrt(fit.squares / fit.df / fit.information);
  return around(fit.difference, tUpperQuantile(alpha / 2, fit.df) * standardError, 'runs');
}

import { fUpper } from '@/lib/numerics/distributions';

/**
 * How sure a difference of two setups is to somebody who looks after every session and stops when they like. An
 * interval that holds at one planned look fails far oftener than its 5 % when it is looked at again and again; the bounds
 * here hold at all looks at once.
 *
 * Both are inverted Bayes factors of a normal mixture over the difference with the right-Haar measure on the unknown
 * spread, a test martingale that exceeds 1/α with a chance of at most α, ever (Ville 1939). Lai T. L. (1976), Annals of
 * Statistics 4, 265; Perez-Ortiz M. F., Lardy T., de Heide R., Grünwald P. (2022), arXiv 2208.07610; Wang H.,
 * Ramdas A. (2024), arXiv 2310.03722 (numbers of the two from memory).
 *
 * All on the log scale.
 */

/** One session in which both setups of the pair may have been driven, in sums. */
export interface PairSession {
  /** Runs of the setup and of the baseline; a session without one of them says nothing of the difference. */
  setupRuns: number;
  baselineRuns: number;
  /** Mean of the setup's less mean of the baseline's; ignored where one is missing. */
  difference: number;
  /** Sum of squares of the runs about the mean of their own setup in this session. */
  withinSquares: number;
}

/** What a class lends to a study with few runs: a run variance that counts for so many degrees of freedom. */
export interface LentSpread {
  d0: number;
  /** Variance of a run, its known part included. */
  s0Squared: number;
}

/** How strongly the class's spread counts, method C1; with more (8) a car that scatters twice as much is missed. */
export const LENT_DEGREES = 4;
/** Prior variance of the difference, in units of the run variance and of the variance of session differences. */
const RUN_LEVEL_G = 8;
const SESSION_LEVEL_G = 4;
/** Below this the sessions do not agree on the difference: then they are what is counted, not the runs. */
const INTERACTION_P = 0.05;

/** Setup + session model of one pair: the least-squares difference and what is left over. */
export interface PairFit {
  difference: number;
  /** Σ 1/h_j with h_j = 1/n_A + 1/n_B: the variance of the difference is that of a run over this. */
  information: number;
  /** Residual sum of squares on `df` degrees of freedom. */
  squares: number;
  df: number;
  /** Sessions with both. */
  sessions: number;
  /** Chance of sessions that disagree at least so much, were the difference the same in all; null where runs cannot tell. */
  interactionP: number | null;
}

/** Null where no session has both setups. */
export function fitPair(sessions: readonly PairSession[]): PairFit | null {
  let [information, weighted, within, withinDf, paired] = [0, 0, 0, 0, 0];
  for (const { setupRuns, baselineRuns, difference, withinSquares } of sessions) {
    within += withinSquares;
    withinDf += Math.max(0, setupRuns - 1) + Math.max(0, baselineRuns - 1);
    if (setupRuns === 0 || baselineRuns === 0) continue;
    const weight = (setupRuns * baselineRuns) / (setupRuns + baselineRuns);
    information += weight;
    weighted += weight * difference;
    paired += 1;
  }
  if (paired === 0) return null;
  const difference = weighted / information;
  let between = 0;
  for (const session of sessions) {
    const { setupRuns, baselineRuns } = session;
    if (setupRuns === 0 || baselineRuns === 0) continue;
    between +=
      ((setupRuns * baselineRuns) / (setupRuns + baselineRuns)) * (session.difference - difference) ** 2;
  }
  const interactionP =
    paired < 2 || withinDf === 0 || within === 0
      ? null
      : fUpper(between / (paired - 1) / (within / withinDf), paired - 1, withinDf);
  return {
    difference,
    information,
    squares: within + between,
    df: withinDf + paired - 1,
    sessions: paired,
    interactionP,
  };
}

/** Whether the difference moves from session to session by more than runs do. */
export function sessionsDisagree(fit: Pick<PairFit, 'interactionP'>): boolean {
  return fit.interactionP !== null && fit.interactionP < INTERACTION_P;
}

/**
 * Half-width of the run-level bound, method C1: k = 1 + gH, Q = RSS + d0 s0², R = (√k/α)^(2/(ν+1+d0)),
 * √(Q (R − 1)/(H (1 − R/k))). Null: no bound yet. With nothing lent it is exact whatever the run variance; with it, it
 * holds on average over cars whose spread is like the class's.
 *
 * @param alpha chance of ever being wrong, divided over the contrasts that a plan names
 */
export function runLevelHalfWidth(
  { information, squares, df }: Pick<PairFit, 'information' | 'squares' | 'df'>,
  alpha: number,
  lent: LentSpread = { d0: 0, s0Squared: 0 },
): number | null {
  const k = 1 + RUN_LEVEL_G * information;
  const q = squares + lent.d0 * lent.s0Squared;
  const r = (Math.sqrt(k) / alpha) ** (2 / (df + 1 + lent.d0));
  return r >= k ? null : Math.sqrt((q * (r - 1)) / (information * (1 - r / k)));
}

/** The limit on |t| of n session differences at all n at once, method C1; null: no bound yet. */
export function sessionLevelLimit(n: number, alpha: number): number | null {
  if (n < 2) return null;
  const k = 1 + n * SESSION_LEVEL_G;
  const r = (Math.sqrt(k) / alpha) ** (2 / n);
  return r >= k ? null : Math.sqrt(((n - 1) * (r - 1)) / (1 - r / k));
}

/** Mean of the sessions' differences and its standard error; null below two. */
export function sessionMean(
  sessions: readonly PairSession[],
): { mean: number; standardError: number; n: number } | null {
  const differences = sessions.flatMap(({ setupRuns, baselineRuns, difference }) =>
    setupRuns > 0 && baselineRuns > 0 ? [difference] : [],
  );
  const n = differences.length;
  if (n < 2) return null;
  const mean = differences.reduce((sum, d) => sum + d, 0) / n;
  const squares = differences.reduce((sum, d) => sum + (d - mean) ** 2, 0);
  return { mean, standardError: Math.sqrt(squares / (n - 1) / n), n };
}

/** What is said of a pair after some look. */
export interface PairBound {
  difference: number;
  interval: [number, number] | null;
  /** What is taken as repeating: runs, or, where sessions disagree, sessions. */
  level: 'runs' | 'sessions';
}

/** The bound that holds at every look; null where no session has both. */
export function boundAtAnyLook(
  sessions: readonly PairSession[],
  alpha: number,
  lent?: LentSpread,
): PairBound | null {
  const fit = fitPair(sessions);
  if (fit === null) return null;
  const mean = sessionsDisagree(fit) ? sessionMean(sessions) : null;
  if (mean === null) {
    return around(fit.difference, runLevelHalfWidth(fit, alpha, lent), 'runs');
  }
  const limit = sessionLevelLimit(mean.n, alpha);
  return around(mean.mean, limit === null ? null : limit * mean.standardError, 'sessions');
}

/** A centre with what is known of its width. */
export function around(difference: number, halfWidth: number | null, level: PairBound['level']): PairBound {
  return {
    difference,
    interval: halfWidth === null ? null : [difference - halfWidth, difference + halfWidth],
    level,
  };
}

import {
  boundAtAnyLook,
  fitPair,
  LENT_DEGREES,
  type LentSpread,
  type PairBound,
  type PairSession,
  runLevelHalfWidth,
} from '@/lib/stats/monitoring';
import { plannedInterval } from '@/lib/stats/plannedPair';
import { drivenSessions, isAsPlanned, type StudiedRun } from './driven';
import type { StudyPlan } from './plan';
import { alphaOf } from './reckoning';
import type { StudyState } from './studyState';

/** A run of a study that counts. */
export interface CountedStudyRun extends StudiedRun {
  /** ln of the normalised consumption. */
  z: number;
  /** Its own known standard uncertainty, log scale. */
  u: number;
  /** ISO: when it was approved, by which the history is drawn. */
  countedAt: string;
  carId: string;
  testerId: string;
  day: string;
}

/** How a difference stood after one session more. */
export interface Look {
  sessionId: string;
  day: string;
  /** Of this session alone; null where it has only one of the two. */
  sessionDifference: number | null;
  /** Over this and all before it; null where none has both. */
  bound: PairBound | null;
}

export interface ContrastStanding {
  setupId: string;
  looks: Look[];
  /** What holds however often one looks. */
  running: PairBound | null;
  /** What was planned to be read once, at the end; null before that, and where the plan was left. */
  planned: PairBound | null;
  shown: PairBound | null;
  sessions: number;
  /** Sessions with both in which the setup used less. */
  lower: number;
  runs: number;
  cars: number;
  testers: number;
  /** Further days as planned after which the difference would probably show, were it as large as it looks. */
  moreDays: number | null;
}

export interface StudyStanding {
  contrasts: ContrastStanding[];
  /** Which interval is shown. */
  which: 'running' | 'planned';
  why: string;
  /** Chance of ever being wrong, of one contrast. */
  alpha: number;
}

export interface StandingAsked {
  plan: StudyPlan;
  state: StudyState;
  /** Versions of the plan since the first run. */
  versions: number;
  runs: readonly CountedStudyRun[];
  /** The class's variance of a run beside its known part. */
  unexplainedVariance: number;
}

/** Where a study stands by the runs of it that count, log scale. */
export function standingOf(asked: StandingAsked): StudyStanding {
  const { plan, state, versions, runs } = asked;
  const alpha = alphaOf(plan.contrasts.length);
  const why = whyPlanned(plan, state, versions, runs);
  return {
    contrasts: plan.contrasts.map(({ setupId }) => contrastStanding(asked, setupId, alpha, why.isPlanned)),
    which: why.isPlanned ? 'planned' : 'running',
    why: why.words,
    alpha,
  };
}

function whyPlanned(
  plan: StudyPlan,
  state: StudyState,
  versions: number,
  runs: readonly CountedStudyRun[],
): { isPlanned: boolean; words: string } {
  const not = (words: string) => ({ isPlanned: false, words });
  if (state === 'draft') return not('The plan is a draft: it is fixed when the study begins.');
  if (state === 'running')
    return not(
      'The study is still running, and whoever drives it may look and stop at any time. So the interval shown is one that holds however often people look; it is wider than the one planned for the end.',
    );
  if (state === 'abandoned')
    return not(
      'The study was given up before its end: shown is the interval that holds whenever one stops, as the planned one would not.',
    );
  if (versions > 1)
    return not(
      'The plan was changed after the first run: shown is the interval that holds however often one looks, as the planned one is for a plan that nobody touched.',
    );
  if (!isAsPlanned(plan, drivenSessions(plan, runs)))
    return not(
      'What was driven is not what was planned, run for run: shown is the interval that holds whenever one stops.',
    );
  return {
    isPlanned: true,
    words:
      'All that was planned was driven, and the plan was never changed: shown is the interval that was planned for the end.',
  };
}

function contrastStanding(
  { plan, runs, unexplainedVariance }: StandingAsked,
  setupId: string,
  alpha: number,
  isPlanned: boolean,
): ContrastStanding {
  const pair = runs.filter((run) => run.setupId === setupId || run.setupId === plan.baselineId);
  const lent = lentSpread(pair, unexplainedVariance);
  const sessions = byApproval(pair).map((own) => ({ own, sums: sumsOf(own, plan.baselineId) }));
  const looks = sessions.map(({ own, sums }, i): Look => {
    const [first] = own as [CountedStudyRun, ...CountedStudyRun[]];
    return {
      sessionId: first.sessionId,
      day: first.day,
      sessionDifference: isPaired(sums) ? sums.difference : null,
      bound: boundAtAnyLook(
        sessions.slice(0, i + 1).map((session) => session.sums),
        alpha,
        lent,
      ),
    };
  });
  const sums = sessions.map((session) => session.sums);
  const running = looks.at(-1)?.bound ?? null;
  const planned = isPlanned ? plannedInterval(sums, alpha) : null;
  const paired = sums.filter(isPaired);
  return {
    setupId,
    looks,
    running,
    planned,
    shown: planned ?? running,
    sessions: paired.length,
    lower: paired.filter(({ difference }) => difference < 0).length,
    runs: pair.length,
    cars: new Set(pair.map(({ carId }) => carId)).size,
    testers: new Set(pair.map(({ testerId }) => testerId)).size,
    moreDays: moreDays(sums, alpha, lent),
  };
}

/** A difference by some runs alone, with the interval of the kind that the study shows; null where no session has both. */
export function pairShown(
  { plan, runs, unexplainedVariance }: Pick<StandingAsked, 'plan' | 'runs' | 'unexplainedVariance'>,
  setupId: string,
  which: StudyStanding['which'],
): PairBound | null {
  const pair = runs.filter((run) => run.setupId === setupId || run.setupId === plan.baselineId);
  const sums = byApproval(pair).map((own) => sumsOf(own, plan.baselineId));
  const alpha = alphaOf(plan.contrasts.length);
  return which === 'planned'
    ? plannedInterval(sums, alpha)
    : boundAtAnyLook(sums, alpha, lentSpread(pair, unexplainedVariance));
}

/** What the class lends: its own run variance and the mean known part of these runs (method C1). */
function lentSpread(runs: readonly CountedStudyRun[], unexplainedVariance: number): LentSpread {
  const known = runs.reduce((sum, { u }) => sum + u * u, 0) / Math.max(1, runs.length);
  return { d0: LENT_DEGREES, s0Squared: unexplainedVariance + known };
}

/** Sessions in the order in which the last run of each was approved. */
function byApproval(runs: readonly CountedStudyRun[]): CountedStudyRun[][] {
  const bySession = new Map<string, CountedStudyRun[]>();
  for (const run of runs) bySession.set(run.sessionId, [...(bySession.get(run.sessionId) ?? []), run]);
  const lastOf = (own: readonly CountedStudyRun[]) =>
    own
      .map(({ countedAt }) => countedAt)
      .sort()
      .at(-1) ?? '';
  return [...bySession.values()].sort(
    (a, b) =>
      lastOf(a).localeCompare(lastOf(b)) || (a[0]?.startedAt ?? '').localeCompare(b[0]?.startedAt ?? ''),
  );
}

function sumsOf(runs: readonly CountedStudyRun[], baselineId: string): PairSession {
  const sides = [
    runs.filter((run) => run.setupId !== baselineId),
    runs.filter((run) => run.setupId === baselineId),
  ];
  const means = sides.map((side) => side.reduce((sum, { z }) => sum + z, 0) / Math.max(1, side.length));
  const [setup, baseline] = sides as [CountedStudyRun[], CountedStudyRun[]];
  return {
    setupRuns: setup.length,
    baselineRuns: baseline.length,
    difference: (means[0] as number) - (means[1] as number),
    withinSquares: sides.reduce(
      (sum, side, i) => sum + side.reduce((own, { z }) => own + (z - (means[i] as number)) ** 2, 0),
      0,
    ),
  };
}

function isPaired({ setupRuns, baselineRuns }: PairSession): boolean {
  return setupRuns > 0 && baselineRuns > 0;
}

/** Beyond this many nobody drives. */
const MOST_MORE_DAYS = 40;
/** Standard normal quantile of the chance of four in five. */
const FOUR_IN_FIVE = 0.8416;

/**
 * Days like those so far until the bound that holds at every look leaves no difference out with a chance of about four in
 * five, were the difference as large as it looks: |d| ≥ half-width + 0.84 standard errors, with the spread of runs as it
 * is seen now. Null where it shows already, or where nobody would drive so many.
 */
function moreDays(sessions: readonly PairSession[], alpha: number, lent: LentSpread): number | null {
  const fit = fitPair(sessions);
  const now = boundAtAnyLook(sessions, alpha, lent);
  if (fit === null || now === null || (now.interval !== null && leavesOutNothing(now.interval))) return null;
  const runVariance = (fit.squares + lent.d0 * lent.s0Squared) / (fit.df + lent.d0);
  const perDay = { information: fit.information / fit.sessions, df: (fit.df + 1) / fit.sessions };
  for (let more = 1; more <= MOST_MORE_DAYS; more++) {
    const information = fit.information + more * perDay.information;
    const df = fit.df + more * perDay.df;
    const width = runLevelHalfWidth({ information, df, squares: runVariance * df }, alpha, lent);
    const error = Math.sqrt(runVariance / information);
    if (width !== null && Math.abs(fit.difference) >= width + FOUR_IN_FIVE * error) return more;
  }
  return null;
}

/** Whether an interval leaves out that there is no difference. */
export function leavesOutNothing([low, high]: readonly [number, number]): boolean {
  return low > 0 || high < 0;
}

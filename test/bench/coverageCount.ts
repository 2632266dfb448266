import type { GroupFit } from '@/lib/stats/groupFit';

/** How many intervals of one kind a world has, and how many of them hold the truth. */
export interface Tally {
  held: number;
  of: number;
}

/** What an interval is asked: one at a time, or all of a family at once. */
export const KINDS = ['within', 'across', 'means', 'classFamily', 'modelFamilies', 'rankSets'] as const;
export type Kind = (typeof KINDS)[number];

/** What a fitted world got right about a known truth. */
export type Verdict = Record<Kind, Tally>;

/** Setups nearer than this are alike: what a factor leaves unchanged is the same only to rounding. */
const TIE = 1e-9;

/** Holds a fit against the true ln consumption of its setups. */
export function judgeFit(fit: GroupFit, truth: (setup: string) => number): Verdict {
  const verdict = Object.fromEntries(KINDS.map((kind) => [kind, { held: 0, of: 0 }])) as Verdict;
  const count = (kind: Kind, holds: boolean) => {
    verdict[kind].of++;
    if (holds) verdict[kind].held++;
  };
  const models = new Map<string, boolean>();
  let [hasFamily, isWhole] = [false, true];
  for (const { a, b, kind, interval95, modelInterval, simultaneous } of fit.contrasts) {
    if (interval95 === null || simultaneous === null) continue;
    const difference = truth(a) - truth(b);
    const holds = ([low, high]: [number, number]) => low <= difference && difference <= high;
    count(kind === 'across' ? 'across' : 'within', holds(interval95));
    hasFamily = true;
    isWhole &&= holds(simultaneous);
    if (modelInterval === null) continue;
    // setups are named "model/setup"; a group of one model names no model
    const model = a.includes('/') ? (a.split('/')[0] as string) : '';
    models.set(model, (models.get(model) ?? true) && holds(modelInterval));
  }
  if (hasFamily) count('classFamily', isWhole);
  for (const isHeld of models.values()) count('modelFamilies', isHeld);
  for (const { setup, interval95 } of fit.estimates) {
    if (interval95 !== null) count('means', interval95[0] <= truth(setup) && truth(setup) <= interval95[1]);
  }
  if (fit.ranks.length > 0) count('rankSets', ranksHold(fit, truth));
  return verdict;
}

/** Every rank set holds its true rank; with ties every rank from 1 + (number lower) to (number not higher) is one. */
function ranksHold(fit: GroupFit, truth: (setup: string) => number): boolean {
  return fit.ranks.every(({ setup, lower, upper }) => {
    const own = truth(setup);
    const low = 1 + fit.ranks.filter((other) => truth(other.setup) < own - TIE).length;
    const high = fit.ranks.filter((other) => truth(other.setup) <= own + TIE).length;
    return lower <= low && high <= upper;
  });
}

/** A share over worlds with its standard error, clustered by world: what one world got wrong it got wrong together. */
export interface Share {
  share: number;
  standardError: number;
  worlds: number;
  intervals: number;
}

/** The ratio estimator Σ held / Σ of with its linearised variance (Cochran W. G., Sampling Techniques, 1977, 6.4). */
export function shareOf(tallies: readonly Tally[]): Share | null {
  const worlds = tallies.filter(({ of }) => of > 0);
  const intervals = worlds.reduce((sum, { of }) => sum + of, 0);
  if (intervals === 0) return null;
  const share = worlds.reduce((sum, { held }) => sum + held, 0) / intervals;
  const squares = worlds.reduce((sum, { held, of }) => sum + (held - share * of) ** 2, 0);
  const n = worlds.length;
  const standardError = Math.sqrt((squares * n) / Math.max(1, n - 1)) / intervals;
  return { share, standardError, worlds: n, intervals };
}

export type Coverage = Record<Kind, Share | null>;

export function coverageOf(verdicts: readonly Verdict[]): Coverage {
  return Object.fromEntries(
    KINDS.map((kind) => [kind, shareOf(verdicts.map((verdict) => verdict[kind]))]),
  ) as Coverage;
}

/** Wanted of 95 % intervals one at a time while a class borrows how its runs scatter (method B5, young registries). */
export const YOUNG_TARGET = [0.93, 0.97] as const;

/** Wanted of 95 % intervals: one at a time, of a family at once; rank sets may hold more often. */
export const TARGETS: Readonly<Record<Kind, readonly [number, number]>> = {
  within: [0.935, 0.965],
  across: [0.935, 0.965],
  means: [0.935, 0.965],
  classFamily: [0.94, 0.98],
  modelFamilies: [0.94, 0.98],
  rankSets: [0.94, 1],
};

/**
 * @param isYoung whether the class's fit moderates the variance of runs: simulated with true spreads drawn about what is
 * assumed, its intervals hold by themselves as method B5 states, at once as those of any class
 */
export function targetOf(kind: Kind, isYoung: boolean): readonly [number, number] {
  const isAlone = kind === 'within' || kind === 'across' || kind === 'means';
  return isYoung && isAlone ? YOUNG_TARGET : TARGETS[kind];
}

export const isWithin = (value: number, [low, high]: readonly [number, number]) =>
  value >= low && value <= high;

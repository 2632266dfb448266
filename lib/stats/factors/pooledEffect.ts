import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Evidence } from '../groupFit';
import { type GroupEffect, type ModeratedMean, moderatedMean, POOLED_NEEDS } from '../moderatedMean';

type Ends = [number, number];

/** A mean over models, or over the cars of one model, with the word for it. */
export interface PooledEffect {
  /** How many models, or cars. */
  groups: number;
  estimate: number;
  se: number;
  df: number;
  /** Standard deviation of the true effect between groups. */
  betweenSd: number;
  /** Log scale: taken alone, and for all effects that are asked at once. */
  alone: Ends;
  ofAll: Ends;
  /** For a further group; null with fewer than a prediction needs. */
  further: Ends | null;
  word: Exclude<Evidence, 'probable'>;
  /** It would be settled, but rests on one tester. */
  restsOnOne: boolean;
}

/** One question put to several groups. */
export interface Question {
  key: string;
  groups: readonly AnsweringGroup[];
}

export interface AnsweringGroup extends GroupEffect {
  /** How much of it each tester drove, 0..1, in all 1. */
  testers: Readonly<Record<string, number>>;
}

/** Models, or cars of one model, before there is a common number. */
export const LEAST_GROUPS = POOLED_NEEDS;

const LEVEL = 0.95;

/**
 * The questions that enough groups answer, each with its mean (moderatedMean.ts) and a word as method B6 gives it to
 * differences across models: settled when the interval for all of these questions at once leaves 0 out (Bonferroni
 * over their number, so at most one set of questions in 20 has a false one), leaning when its own does, else undecided.
 * One in which a single tester has more than half of the weight is never settled, after method B13; how much of a group
 * a tester has is taken by the counts of runs, not by the fit's influence.
 */
export function poolQuestions(questions: readonly Question[]): Map<string, PooledEffect> {
  const found = questions.flatMap(({ key, groups }) => {
    const mean = moderatedMean(groups);
    return mean === null ? [] : [{ key, groups, mean }];
  });
  return new Map(
    found.map(({ key, groups, mean }) => [key, wordFor(mean, influence(groups, mean.tau2), found.length)]),
  );
}

function wordFor(mean: ModeratedMean, mostOfOne: number, asked: number): PooledEffect {
  const around = (level: number): Ends => {
    const half = tUpperQuantile((1 - level) / 2, mean.df) * mean.se;
    return [mean.estimate - half, mean.estimate + half];
  };
  const [alone, ofAll] = [around(LEVEL), around(1 - (1 - LEVEL) / asked)];
  const restsOnOne = leavesZeroOut(ofAll) && mostOfOne > 0.5;
  return {
    groups: mean.k,
    estimate: mean.estimate,
    se: mean.se,
    df: mean.df,
    betweenSd: Math.sqrt(mean.tau2),
    alone,
    ofAll,
    further: mean.further?.interval ?? null,
    word: leavesZeroOut(ofAll) && !restsOnOne ? 'settled' : leavesZeroOut(alone) ? 'leaning' : 'undecided',
    restsOnOne,
  };
}

const leavesZeroOut = ([low, high]: Ends) => low > 0 || high < 0;

/** The largest share of the mean that one tester has, each group weighing 1/(variance + τ²). */
function influence(groups: readonly AnsweringGroup[], tau2: number): number {
  const shares = new Map<string, number>();
  let total = 0;
  for (const { variance, testers } of groups) {
    const weight = 1 / (variance + tau2);
    total += weight;
    for (const [tester, share] of Object.entries(testers))
      shares.set(tester, (shares.get(tester) ?? 0) + weight * share);
  }
  return Math.max(0, ...shares.values()) / total;
}

import type { GroupFit } from '@/lib/stats/groupFit';

/** What a fitted group got right about a known truth. */
export interface Verdict {
  /** Every simultaneous interval holds its true difference. */
  simultaneous: boolean;
  /** The same, asked only of pairs that cars join: within a model. */
  withinModel: boolean;
  /** Every rank set holds its true rank. */
  rankSets: boolean;
  /** Pairs with an interval of their own, and those whose interval holds the truth; then of different models only. */
  pairs: number;
  pointwise: number;
  acrossPairs: number;
  acrossPointwise: number;
}

/** Setups nearer than this are alike: what a factor leaves unchanged is the same only to rounding. */
const TIE = 1e-9;

/** Holds a fit against the true ln consumption of its setups. */
export function judgeFit(fit: GroupFit, truth: (setup: string) => number): Verdict {
  const verdict: Verdict = {
    simultaneous: true,
    withinModel: true,
    rankSets: true,
    pairs: 0,
    pointwise: 0,
    acrossPairs: 0,
    acrossPointwise: 0,
  };
  for (const { a, b, kind, simultaneous, interval95 } of fit.contrasts) {
    if (simultaneous === null || interval95 === null) continue;
    const difference = truth(a) - truth(b);
    const holds = ([low, high]: [number, number]) => low <= difference && difference <= high;
    if (!holds(simultaneous)) {
      verdict.simultaneous = false;
      if (kind !== 'across') verdict.withinModel = false;
    }
    const isHeld = Number(holds(interval95));
    verdict.pairs++;
    verdict.pointwise += isHeld;
    if (kind !== 'across') continue;
    verdict.acrossPairs++;
    verdict.acrossPointwise += isHeld;
  }
  for (const { setup, lower, upper } of fit.ranks) {
    // With ties every rank from 1 + (number lower) to (number not higher) is a true one.
    const own = truth(setup);
    const low = 1 + fit.ranks.filter((other) => truth(other.setup) < own - TIE).length;
    const high = fit.ranks.filter((other) => truth(other.setup) <= own + TIE).length;
    if (lower > low || upper < high) verdict.rankSets = false;
  }
  return verdict;
}

export interface Coverage {
  groups: number;
  simultaneous: number;
  withinModel: number;
  pointwise: number;
  /** Undefined where no two models are compared. */
  acrossPointwise: number | undefined;
  rankSets: number;
}

/** Shares over many fitted groups, 0..1. */
export function coverageOf(verdicts: readonly Verdict[]): Coverage {
  const sum = (count: (verdict: Verdict) => number) =>
    verdicts.reduce((total, verdict) => total + count(verdict), 0);
  const groups = verdicts.length;
  const across = sum((v) => v.acrossPairs);
  return {
    groups,
    simultaneous: sum((v) => Number(v.simultaneous)) / groups,
    withinModel: sum((v) => Number(v.withinModel)) / groups,
    rankSets: sum((v) => Number(v.rankSets)) / groups,
    pointwise: sum((v) => v.pointwise) / sum((v) => v.pairs),
    acrossPointwise: across === 0 ? undefined : sum((v) => v.acrossPointwise) / across,
  };
}

export const isAsWanted = ({ simultaneous, rankSets }: Coverage) =>
  simultaneous >= 0.93 && simultaneous <= 0.97 && rankSets >= 0.93;

const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

export function describeCoverage(name: string, c: Coverage): string {
  const isMixed = c.acrossPointwise !== undefined;
  return [
    `  ${name}: simultaneous ${percent(c.simultaneous)}${isMixed ? ` (within a model ${percent(c.withinModel)})` : ''}`,
    `pointwise ${percent(c.pointwise)}${isMixed ? ` (across models ${percent(c.acrossPointwise ?? 0)})` : ''}`,
    `rank sets ${percent(c.rankSets)}`,
  ].join(', ');
}

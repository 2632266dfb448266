import { fUpper } from '@/lib/numerics/distributions';

/** One-way analysis of variance, with sums taken about centres so that large offsets cost no digits. */
export interface OneWayAnova {
  groups: number;
  n: number;
  means: number[];
  betweenDf: number;
  withinDf: number;
  betweenSquares: number;
  withinSquares: number;
  betweenMeanSquare: number;
  withinMeanSquare: number;
  f: number;
  p: number;
  rSquared: number;
}

/** Compensated sum; Neumaier A. (1974), ZAMM 54, 39. */
export function sumExactly(values: Iterable<number>): number {
  let sum = 0;
  let lost = 0;
  for (const value of values) {
    const next = sum + value;
    lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + lost;
}

/** Mean by two passes: the second sums what the first left over. */
export function meanOf(values: readonly number[]): number {
  const first = sumExactly(values) / values.length;
  return first + sumExactly(values.map((value) => value - first)) / values.length;
}

/** Sum of squares about the mean, with the correction for the mean's own rounding. */
export function squaresAboutMean(values: readonly number[], mean = meanOf(values)): number {
  const left = sumExactly(values.map((value) => value - mean));
  return sumExactly(values.map((value) => (value - mean) ** 2)) - (left * left) / values.length;
}

/**
 * One-way analysis of variance; checked against NIST StRD, including the sets with 10⁶ in front.
 *
 * @throws RangeError for fewer than two groups, an empty group, or no replicates at all
 */
export function oneWayAnova(groups: readonly (readonly number[])[]): OneWayAnova {
  const n = groups.reduce((sum, group) => sum + group.length, 0);
  if (groups.length < 2 || groups.some((group) => group.length === 0) || n <= groups.length) {
    throw new RangeError('an analysis of variance needs two groups and a replicate');
  }
  // The offset is removed before any mean is taken; the differences of near numbers are exact.
  const origin = groups[0]?.[0] as number;
  const shifted = groups.map((group) => group.map((value) => value - origin));
  const means = shifted.map((group) => meanOf(group));
  const grand = sumExactly(shifted.map((group, i) => group.length * (means[i] as number))) / n;
  const withinSquares = sumExactly(shifted.map((group, i) => squaresAboutMean(group, means[i] as number)));
  const betweenSquares = sumExactly(
    shifted.map((group, i) => group.length * ((means[i] as number) - grand) ** 2),
  );
  const betweenDf = groups.length - 1;
  const withinDf = n - groups.length;
  const betweenMeanSquare = betweenSquares / betweenDf;
  const withinMeanSquare = withinSquares / withinDf;
  const f = betweenMeanSquare / withinMeanSquare;
  return {
    groups: groups.length,
    n,
    means: means.map((mean) => mean + origin),
    betweenDf,
    withinDf,
    betweenSquares,
    withinSquares,
    betweenMeanSquare,
    withinMeanSquare,
    f,
    p: fUpper(f, betweenDf, withinDf),
    rSquared: betweenSquares / (betweenSquares + withinSquares),
  };
}

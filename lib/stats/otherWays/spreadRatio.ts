import type { Variances } from '../accumulate';
import { evaluate } from '../criterion';
import type { FitRow } from '../fitRow';
import { prepareFor, toScaled } from '../problem';
import { columnsOf } from '../runColumns';
import { readyColumns } from '../sessionSpread';
import { spreadCovariance } from '../spreadCovariance';
import { layOutColumns } from '../structure';

/**
 * By pair, what the variance of its difference is to the one that takes what a session's inputs do unequally for
 * independent from run to run (spreadCovariance.ts), by generalised least squares of all runs at components that are held.
 * Ways that weight the same runs a little otherwise hold it as a factor.
 */
export function spreadRatios(
  rows: readonly FitRow[],
  components: Variances,
): (a: string, b: string) => number {
  const ready = readyColumns(columnsOf(rows));
  if (ready.spread === null) return () => 1;
  const problem = prepareFor(layOutColumns(ready), components);
  const at = evaluate(problem, toScaled(problem, components), true);
  const within = spreadCovariance(problem, at, ready.spread);
  const { setups } = problem.structure;
  const m = setups.length;
  const places = new Map(setups.map((setup, k) => [setup, k]));
  return (a, b) => {
    const [i, j] = [places.get(a), places.get(b)];
    if (i === undefined || j === undefined) return 1;
    const of = (matrix: Float64Array) =>
      (matrix[i * (m + 1)] as number) + (matrix[j * (m + 1)] as number) - 2 * (matrix[i * m + j] as number);
    return Math.max(0, 1 + of(within) / (of(at.covariance) * problem.scale ** 2));
  };
}

import { COMPONENT_COUNT, COMPONENTS } from './accumulate';
import type { Derivatives } from './criterion';

/** Solves a small symmetric positive definite system on the `active` indices; null when it is not. */
function solveActive(matrix: Float64Array, right: number[], active: readonly number[]): number[] | null {
  const n = active.length;
  const lower: number[][] = [];
  // Scale to unit diagonal first: the components may differ by many powers of ten in information.
  const unit = active.map((j) => Math.sqrt(Math.max(0, matrix[j * COMPONENT_COUNT + j] as number)));
  if (unit.some((d) => !(d > 0) || !Number.isFinite(d))) return null;
  for (let i = 0; i < n; i++) {
    lower.push([]);
    for (let j = 0; j <= i; j++) {
      let sum =
        (matrix[(active[i] as number) * COMPONENT_COUNT + (active[j] as number)] as number) /
        ((unit[i] as number) * (unit[j] as number));
      for (let k = 0; k < j; k++) sum -= (lower[i]?.[k] as number) * (lower[j]?.[k] as number);
      if (i === j) {
        if (!(sum > 1e-10)) return null;
        (lower[i] as number[])[j] = Math.sqrt(sum);
      } else (lower[i] as number[])[j] = sum / (lower[j]?.[j] as number);
    }
  }
  const x = active.map((j, i) => (right[j] as number) / (unit[i] as number));
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i] = (x[i] as number) - (lower[i]?.[k] as number) * (x[k] as number);
    x[i] = (x[i] as number) / (lower[i]?.[i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i] = (x[i] as number) - (lower[k]?.[i] as number) * (x[k] as number);
    x[i] = (x[i] as number) / (lower[i]?.[i] as number);
  }
  const full = COMPONENTS.map(() => 0);
  active.forEach((j, i) => {
    full[j] = (x[i] as number) / (unit[i] as number);
  });
  return full;
}

/** Half the observed Hessian of the deviance: 2·average − expected information (Gilmour et al. 1995). */
export function observedInformation(d: Derivatives): Float64Array {
  return d.average.map((value, i) => 2 * value - (d.expected[i] as number));
}

export interface Step {
  move: number[];
  /** Whether it is Newton's own step, which converges quadratically. */
  newton: boolean;
  /** Fall of the deviance the quadratic model promises: −score'·move / 2. */
  gain: number;
}

/** A fall of the deviance above this counts as far from the optimum. */
const FAR_GAIN = 1;

/**
 * Far from the optimum a scoring step with the expected information: it solves the moment equations of MINQUE
 * (Rao C. R., 1971, J. Multivariate Analysis 1, 445), so from any start it lands within sampling error of the
 * answer. Near it Newton's step, or average information where the observed one is not positive definite.
 */
export function stepFrom(d: Derivatives, active: readonly number[]): Step {
  const right = Array.from(d.score, (value) => -value / 2);
  const gainOf = (move: readonly number[]) =>
    active.reduce((sum, j) => sum - ((d.score[j] as number) * (move[j] as number)) / 2, 0);
  const scoring = solveActive(d.expected, right, active);
  if (scoring !== null && gainOf(scoring) > FAR_GAIN) {
    return { move: scoring, newton: false, gain: gainOf(scoring) };
  }
  const newton = solveActive(observedInformation(d), right, active);
  const move =
    newton ??
    solveActive(d.average, right, active) ??
    scoring ??
    COMPONENTS.map((_, j) =>
      active.includes(j)
        ? (right[j] as number) / Math.max(1e-300, d.expected[j * (COMPONENT_COUNT + 1)] as number)
        : 0,
    );
  return { move, newton: newton !== null, gain: gainOf(move) };
}

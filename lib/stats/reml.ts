import { COMPONENTS, type Component, type Variances } from './accumulate';
import { NotPositiveDefinite } from './cholesky';
import { type Derivatives, type Evaluation, evaluate, type Problem, residualFloor } from './criterion';

/** Which components are estimated; a dropped one stays at 0. */
export type FreeComponents = Record<Component, boolean>;

export interface RemlFit {
  /** The evaluation at the optimum, with derivatives. */
  at: Evaluation;
  converged: boolean;
  evaluations: number;
  /** Estimated components that ended on 0. */
  boundary: Component[];
  /** Free components in the interior, in the order of COMPONENTS. */
  interior: Component[];
}

/** Two unlike starts, in units of the scaled residual variance: even thirds, and nearly all repeatability. */
const STARTS: readonly Variances[] = [
  { car: 0.25, session: 0.25, residual: 0.25 },
  { car: 0.01, session: 0.01, residual: 1 },
];
const MAX_STEPS = 200;
const MAX_HALVINGS = 40;
/** Rounding of the deviance, relative: a rise this small is no rise. */
const DEVIANCE_NOISE = 3e-14;
/** A step below this share of the largest component ends the search. */
const STEP_TOLERANCE = 1e-10;

function toArray(v: Variances): number[] {
  return COMPONENTS.map((name) => v[name]);
}

function toVariances(v: readonly number[]): Variances {
  return { car: v[0] ?? 0, session: v[1] ?? 0, residual: v[2] ?? 0 };
}

/** Solves a small symmetric positive definite system on the `active` indices; null when it is not. */
function solveActive(matrix: Float64Array, right: number[], active: readonly number[]): number[] | null {
  const n = active.length;
  const lower: number[][] = [];
  // Scale to unit diagonal first: the components may differ by many powers of ten in information.
  const unit = active.map((j) => Math.sqrt(Math.max(0, matrix[j * 3 + j] as number)));
  if (unit.some((d) => !(d > 0) || !Number.isFinite(d))) return null;
  for (let i = 0; i < n; i++) {
    lower.push([]);
    for (let j = 0; j <= i; j++) {
      let sum =
        (matrix[(active[i] as number) * 3 + (active[j] as number)] as number) /
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
  const full = [0, 0, 0];
  active.forEach((j, i) => {
    full[j] = (x[i] as number) / (unit[i] as number);
  });
  return full;
}

/** Half the observed Hessian of the deviance: 2·average − expected information (Gilmour et al. 1995). */
export function observedInformation(d: Derivatives): Float64Array {
  return d.average.map((value, i) => 2 * value - (d.expected[i] as number));
}

/** Newton's direction where the observed information is positive definite, Fisher scoring elsewhere. */
function direction(d: Derivatives, active: readonly number[]): number[] {
  const right = Array.from(d.score, (value) => -value / 2);
  return (
    solveActive(observedInformation(d), right, active) ??
    solveActive(d.average, right, active) ??
    solveActive(d.expected, right, active) ??
    [0, 1, 2].map((j) =>
      active.includes(j) ? (right[j] as number) / Math.max(1e-300, d.expected[j * 4] as number) : 0,
    )
  );
}

/**
 * Restricted maximum likelihood for the three variance components.
 * Newton and average-information steps on the variances, halved while the deviance rises; a component
 * pushed below 0 is clamped there and released once its score points inward, so the boundary is exact.
 * Gilmour A. R., Thompson R., Cullis B. R. (1995), Biometrics 51, 1440; boundary handling as in method B2.
 *
 * @param start warm start in original units (variances of a previous fit); one search instead of two
 */
export function fitReml(problem: Problem, free: FreeComponents, start?: Variances): RemlFit {
  const square = problem.scale * problem.scale;
  if (start !== undefined) {
    const scaled = toArray(start).map((value) => Math.max(value / square, 1e-6));
    return search(problem, free, toVariances(scaled));
  }
  const fits = STARTS.map((s) => search(problem, free, s));
  const [one, two] = fits as [RemlFit, RemlFit];
  const best = two.at.deviance < one.at.deviance ? two : one;
  return { ...best, evaluations: one.evaluations + two.evaluations };
}

function search(problem: Problem, free: FreeComponents, start: Variances): RemlFit {
  const floor = [0, 0, free.residual ? residualFloor(problem) : 0];
  const isFree = COMPONENTS.map((name) => free[name]);
  let v = toArray(start).map((value, j) => (isFree[j] ? Math.max(value, floor[j] as number) : 0));
  let evaluations = 1;
  let at = evaluate(problem, toVariances(v), true);
  const degrees = problem.structure.runs - problem.p;
  if (!problem.structure.hasKnownVariance && degrees > 0 && at.residualQuadratic > 0) {
    // Without known variances the overall scale has a closed form; take it before the first step.
    const ratio = at.residualQuadratic / degrees;
    v = v.map((value, j) => Math.max(value * ratio, isFree[j] ? (floor[j] as number) : 0));
    at = evaluate(problem, toVariances(v), true);
    evaluations++;
  }
  let converged = false;
  let clamped = isFree.map(() => false);
  for (let step = 0; step < MAX_STEPS && !converged; step++) {
    const d = at.derivatives as Derivatives;
    clamped = clamped.map((held, j) => held && (d.score[j] as number) >= 0);
    const active = [0, 1, 2].filter((j) => isFree[j] && !clamped[j]);
    if (active.length === 0) {
      converged = true;
      break;
    }
    const move = direction(d, active);
    // A step that a later halving must not undo: hold the components that leave the domain at once.
    const largest = Math.max(...v);
    let share = 1;
    let accepted: Evaluation | null = null;
    let next = v;
    for (let halving = 0; halving < MAX_HALVINGS; halving++) {
      next = v.map((value, j) =>
        active.includes(j) ? Math.max(floor[j] as number, value + share * (move[j] as number)) : value,
      );
      const trial = attempt(problem, toVariances(next));
      evaluations++;
      const noise = DEVIANCE_NOISE * Math.abs(at.deviance);
      if (trial !== null && Number.isFinite(trial.deviance) && trial.deviance <= at.deviance + noise) {
        accepted = trial;
        break;
      }
      share /= 2;
      const size = Math.max(...active.map((j) => Math.abs(share * (move[j] as number))));
      if (size < STEP_TOLERANCE * largest) break;
    }
    if (accepted === null) {
      // No descent is left above rounding: the point is a minimum as far as the criterion can tell.
      converged = isStationary(d, active, v);
      break;
    }
    const moved = Math.max(...next.map((value, j) => Math.abs(value - (v[j] as number))));
    v = next;
    at = accepted;
    clamped = v.map((value, j) => (isFree[j] ?? false) && value <= (floor[j] as number));
    const settled = (at.derivatives as Derivatives).score;
    const wantsRelease = clamped.some((held, j) => held && (settled[j] as number) < 0);
    if (moved <= STEP_TOLERANCE * Math.max(...v) && !wantsRelease) converged = true;
  }
  const boundary = COMPONENTS.filter((_, j) => isFree[j] && (v[j] as number) <= (floor[j] as number));
  const interior = COMPONENTS.filter((_, j) => isFree[j] && (v[j] as number) > (floor[j] as number));
  return { at, converged, evaluations, boundary, interior };
}

/** An evaluation, or null where rounding has made the information singular: a step too far. */
function attempt(problem: Problem, v: Variances): Evaluation | null {
  try {
    return evaluate(problem, v, true);
  } catch (error) {
    if (error instanceof NotPositiveDefinite) return null;
    throw error;
  }
}

/** Whether the remaining predicted gain of the deviance is below what double precision resolves. */
function isStationary(d: Derivatives, active: readonly number[], v: readonly number[]): boolean {
  return active.every((j) => {
    const information = Math.abs(d.expected[j * 4] as number);
    const gain = (d.score[j] as number) ** 2 / Math.max(information, 1e-300);
    return gain < 1e-8 || Math.abs((d.score[j] as number) * (v[j] as number)) < 1e-6;
  });
}

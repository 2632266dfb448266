import { NotPositiveDefinite } from '@/lib/numerics/cholesky';
import { COMPONENTS, type Component, type Variances } from './accumulate';
import { type Derivatives, type Evaluation, evaluate } from './criterion';
import { type Step, stepFrom } from './newtonStep';
import { type Problem, residualFloor } from './problem';

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
const STARTS: readonly [Variances, Variances] = [
  { car: 0.25, session: 0.25, residual: 0.25 },
  { car: 0.01, session: 0.01, residual: 1 },
];
const MAX_STEPS = 200;
const MAX_HALVINGS = 40;
/** Rounding of the deviance, relative: a rise this small is no rise. */
const DEVIANCE_NOISE = 3e-14;
/** A step below this share of the largest component ends the search. */
const STEP_TOLERANCE = 1e-10;
/** A Newton step that promises less than this share of the deviance is taken and ends the search. */
const FINAL_GAIN = 1e-13;
/** A second search that promises no more than this and is not lower has come to the same place. */
const COARSE_GAIN = 1e-3;

function toArray(v: Variances): number[] {
  return COMPONENTS.map((name) => v[name]);
}

function toVariances(v: readonly number[]): Variances {
  return { car: v[0] ?? 0, session: v[1] ?? 0, residual: v[2] ?? 0 };
}

/**
 * Restricted maximum likelihood for the three variance components.
 * Newton and average-information steps on the variances, halved while the deviance rises; a component
 * pushed below 0 is clamped there and released once its score points inward, so the boundary is exact.
 * Gilmour A. R., Thompson R., Cullis B. R. (1995), Biometrics 51, 1440; boundary handling as in method B2.
 * A second search from an unlike start is stopped as soon as it is seen to lead to the same optimum.
 *
 * @param start warm start in original units (variances of a previous fit); one search instead of two
 */
export function fitReml(problem: Problem, free: FreeComponents, start?: Variances): RemlFit {
  const square = problem.scale * problem.scale;
  if (start !== undefined) {
    const scaled = toArray(start).map((value) => Math.max(value / square, 1e-6));
    return search(problem, free, toVariances(scaled), Number.POSITIVE_INFINITY);
  }
  const one = search(problem, free, STARTS[0], Number.POSITIVE_INFINITY);
  const two = search(problem, free, STARTS[1], one.converged ? one.at.deviance : Number.POSITIVE_INFINITY);
  const best = two.converged && two.at.deviance < one.at.deviance ? two : one;
  return { ...best, evaluations: one.evaluations + two.evaluations };
}

/** @param known deviance of an optimum already found; the search ends early where it cannot beat it */
function search(problem: Problem, free: FreeComponents, start: Variances, known: number): RemlFit {
  const floor = [0, 0, free.residual ? residualFloor(problem) : 0];
  const isFree = COMPONENTS.map((name) => free[name]);
  let { v, at, evaluations } = begin(problem, start, isFree, floor);
  let converged = false;
  for (let round = 0; round < MAX_STEPS && !converged; round++) {
    const d = at.derivatives as Derivatives;
    const active = [0, 1, 2].filter(
      (j) => isFree[j] && ((v[j] as number) > (floor[j] as number) || (d.score[j] as number) < 0),
    );
    if (active.length === 0) {
      converged = true;
      break;
    }
    const step = stepFrom(d, active);
    if (step.gain < COARSE_GAIN && at.deviance > known - COARSE_GAIN) break;
    const taken = takeStep(problem, at, v, step, active, floor);
    evaluations += taken.evaluations;
    if (taken.at === null) {
      // No descent is left above rounding: the point is a minimum as far as the criterion can tell.
      converged = isStationary(d, active, v);
      break;
    }
    const moved = Math.max(...taken.v.map((value, j) => Math.abs(value - (v[j] as number))));
    const inside = active.every((j) => (taken.v[j] as number) > (floor[j] as number));
    const last = step.newton && inside && step.gain <= FINAL_GAIN * Math.max(1, Math.abs(at.deviance));
    v = taken.v;
    at = taken.at;
    const score = (at.derivatives as Derivatives).score;
    const wantsRelease = v.some(
      (value, j) => isFree[j] && value <= (floor[j] as number) && (score[j] as number) < 0,
    );
    converged = !wantsRelease && (last || moved <= STEP_TOLERANCE * Math.max(...v));
  }
  const boundary = COMPONENTS.filter((_, j) => isFree[j] && (v[j] as number) <= (floor[j] as number));
  const interior = COMPONENTS.filter((_, j) => isFree[j] && (v[j] as number) > (floor[j] as number));
  return { at, converged, evaluations, boundary, interior };
}

/** The first evaluation; without known variances the overall scale has a closed form, taken at once. */
function begin(problem: Problem, start: Variances, isFree: readonly boolean[], floor: readonly number[]) {
  let v = toArray(start).map((value, j) => (isFree[j] ? Math.max(value, floor[j] as number) : 0));
  let at = evaluate(problem, toVariances(v), true);
  const degrees = problem.structure.runs - problem.p;
  if (problem.structure.hasKnownVariance || degrees <= 0 || !(at.residualQuadratic > 0)) {
    return { v, at, evaluations: 1 };
  }
  const ratio = at.residualQuadratic / degrees;
  v = v.map((value, j) => (isFree[j] ? Math.max(value * ratio, floor[j] as number) : 0));
  at = evaluate(problem, toVariances(v), true);
  return { v, at, evaluations: 2 };
}

/** Takes a step, halved until the deviance does not rise; null where no share of it helps. */
function takeStep(
  problem: Problem,
  at: Evaluation,
  v: readonly number[],
  step: Step,
  active: readonly number[],
  floor: readonly number[],
): { at: Evaluation | null; v: number[]; evaluations: number } {
  const noise = DEVIANCE_NOISE * Math.abs(at.deviance);
  const largest = Math.max(...v);
  let share = 1;
  for (let halving = 1; halving <= MAX_HALVINGS; halving++) {
    const next = v.map((value, j) =>
      active.includes(j) ? Math.max(floor[j] as number, value + share * (step.move[j] as number)) : value,
    );
    const trial = attempt(problem, toVariances(next));
    if (trial !== null && Number.isFinite(trial.deviance) && trial.deviance <= at.deviance + noise) {
      return { at: trial, v: next, evaluations: halving };
    }
    share /= 2;
    const size = Math.max(...active.map((j) => Math.abs(share * (step.move[j] as number))));
    if (size < STEP_TOLERANCE * largest) return { at: null, v: next, evaluations: halving };
  }
  return { at: null, v: [...v], evaluations: MAX_HALVINGS };
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

import { NotPositiveDefinite } from '@/lib/numerics/cholesky';
import { COMPONENTS, type Component, type Variances } from './accumulate';
import { sampleOfCars } from './carSample';
import { type Derivatives, type Evaluation, evaluate } from './criterion';
import { type Moderation, penalty, scalePriors, withPriors } from './moderation';
import { type Step, stepFrom } from './newtonStep';
import { type Problem, residualFloor } from './problem';

/** Which components are estimated; a dropped one stays at 0. */
export type FreeComponents = Record<Component, boolean>;

export interface RemlFit {
  /** The evaluation at the optimum, with derivatives; those of the moderated criterion where priors were given. */
  at: Evaluation;
  converged: boolean;
  evaluations: number;
  /** Estimated components that ended on 0. */
  boundary: Component[];
  /** Free components in the interior, in the order of COMPONENTS. */
  interior: Component[];
}

export interface RemlOptions {
  /** Warm start in original units (variances of a previous fit); one search instead of two: a preview. */
  start?: Variances;
  /** Components held at a value from elsewhere, original units; they must not be free. */
  held?: Partial<Variances>;
  /** Values that components are drawn toward, original units. */
  moderation?: Moderation;
}

/** A search's criterion: the REML deviance, with the priors' share where there are any. */
interface Objective {
  problem: Problem;
  isFree: boolean[];
  floor: number[];
  held: number[];
  moderation: Moderation;
}

interface Point {
  v: number[];
  at: Evaluation;
  value: number;
}

/** Two unlike starts, in units of the scaled residual variance: even shares, and nearly all repeatability. */
const STARTS: readonly [number[], number[]] = [
  [0.25, 0.25, 0.25, 0.25],
  [0.01, 0.01, 0.01, 1],
];
const MAX_STEPS = 200;
const MAX_HALVINGS = 40;
const MAX_POLISHING = 8;
/** Rounding of the deviance, relative: a rise this small is no rise. */
const DEVIANCE_NOISE = 3e-14;
/** A step below this share of the largest component ends the search. */
const STEP_TOLERANCE = 1e-10;
/**
 * Newton decrement score'I⁻¹score of the deviance that ends the search (method B2); the promised gain is a quarter of
 * it. A stop on the change of deviance would leave components 5e-6 to 2e-5 off.
 */
const NEWTON_DECREMENT = 1e-14;
/** Polished until each score is below this share of the terms that cancel in it (method B10). */
const SCORE_TOLERANCE = 1e-10;
/** A second search that promises no more than this and is not lower has come to the same place. */
const COARSE_GAIN = 1e-3;

/** Least share of the largest component from which a search on a sample hands over. */
const LEAST_SHARE = 1e-3;
/** An overall scale this near to 1 is left to the steps. */
const NEAR_SCALE = 0.2;

const toArray = (v: Variances): number[] => COMPONENTS.map((name) => v[name]);

const toVariances = (v: readonly number[]): Variances => ({
  car: v[0] as number,
  carLoop: v[1] as number,
  session: v[2] as number,
  residual: v[3] as number,
});

/**
 * Restricted maximum likelihood for the variance components.
 * Newton and average-information steps on the variances, halved while the deviance rises; a component
 * pushed below 0 is clamped there and released once its score points inward, so the boundary is exact.
 * Gilmour A. R., Thompson R., Cullis B. R. (1995), Biometrics 51, 1440; boundary handling as in method B2.
 * A second search from an unlike start is stopped as soon as it is seen to lead to the same optimum; of many runs both
 * are made on a sample of the cars, and the steps that are left on all.
 */
export function fitReml(problem: Problem, free: FreeComponents, options: RemlOptions = {}): RemlFit {
  const square = problem.scale ** 2;
  const objective: Objective = {
    problem,
    isFree: COMPONENTS.map((name) => free[name]),
    floor: COMPONENTS.map((name) => (name === 'residual' && free.residual ? residualFloor(problem) : 0)),
    held: COMPONENTS.map((name) => (options.held?.[name] ?? 0) / square),
    moderation: scalePriors(options.moderation ?? {}, problem.scale),
  };
  if (options.start !== undefined) {
    const scaled = toArray(options.start).map((value) => Math.max(value / square, 1e-6));
    return search(objective, scaled, Number.POSITIVE_INFINITY).fit;
  }
  const near = Object.keys(objective.moderation).length === 0 ? nearOptimum(objective) : null;
  if (near !== null) {
    const { fit } = search(objective, near, Number.POSITIVE_INFINITY);
    if (fit.converged) return fit;
  }
  return searchTwice(objective).fit;
}

type Found = { fit: RemlFit; value: number };

/** Two searches from unlike starts; the lower. */
function searchTwice(objective: Objective): Found {
  const one = search(objective, startNear(objective, STARTS[0]), Number.POSITIVE_INFINITY);
  const known = one.fit.converged ? one.value : Number.POSITIVE_INFINITY;
  const two = search(objective, startNear(objective, STARTS[1]), known);
  const best = two.fit.converged && two.value < one.value ? two : one;
  const evaluations = one.fit.evaluations + two.fit.evaluations;
  return { fit: { ...best.fit, evaluations }, value: best.value };
}

/** Where a sample of a large problem's cars has its optimum, from both starts; null where there is none to be had. */
function nearOptimum(objective: Objective): number[] | null {
  const sample = sampleOfCars(objective.problem);
  if (sample === null) return null;
  try {
    const { fit } = searchTwice({ ...objective, problem: sample });
    if (!fit.converged) return null;
    const v = toArray(fit.at.variances);
    // a component that the sample sees nothing of begins a little above 0
    return v.map((value) => Math.max(value, LEAST_SHARE * Math.max(...v)));
  } catch (error) {
    if (error instanceof NotPositiveDefinite) return null;
    throw error;
  }
}

/** Where priors are at hand the first start is theirs. */
function startNear(objective: Objective, start: readonly number[]): number[] {
  if (start !== STARTS[0]) return [...start];
  return COMPONENTS.map((name, j) => objective.moderation[name]?.s2 ?? (start[j] as number));
}

/** @param known the criterion at an optimum already found; the search ends early where it cannot beat it */
function search(objective: Objective, start: readonly number[], known: number): Found {
  const { isFree, floor } = objective;
  const begun = begin(objective, start);
  let { point, evaluations } = begun;
  let converged = false;
  for (let round = 0; round < MAX_STEPS && !converged; round++) {
    const d = point.at.derivatives as Derivatives;
    const active = activeOf(objective, point);
    if (active.length === 0) {
      converged = true;
      break;
    }
    const step = stepFrom(d, active);
    if (step.gain < COARSE_GAIN && point.value > known - COARSE_GAIN) break;
    const taken = takeStep(objective, point, step, active);
    evaluations += taken.evaluations;
    if (taken.point === null) {
      // No descent is left above rounding: the point is a minimum as far as the criterion can tell.
      converged = isStationary(d, active, point.v);
      break;
    }
    const before = point;
    point = taken.point;
    const moved = Math.max(...point.v.map((value, j) => Math.abs(value - (before.v[j] as number))));
    const inside = active.every((j) => (point.v[j] as number) > (floor[j] as number));
    const last = step.newton && inside && 4 * step.gain < NEWTON_DECREMENT;
    const score = (point.at.derivatives as Derivatives).score;
    const wantsRelease = point.v.some(
      (value, j) => isFree[j] && value <= (floor[j] as number) && (score[j] as number) < 0,
    );
    converged = !wantsRelease && (last || moved <= STEP_TOLERANCE * Math.max(...point.v));
  }
  if (converged) {
    const polished = polish(objective, point);
    point = polished.point;
    evaluations += polished.evaluations;
  }
  const isAtFloor = (j: number) => (point.v[j] as number) <= (floor[j] as number);
  const boundary = COMPONENTS.filter((_, j) => isFree[j] && isAtFloor(j));
  const interior = COMPONENTS.filter((_, j) => isFree[j] && !isAtFloor(j));
  return { fit: { at: point.at, converged, evaluations, boundary, interior }, value: point.value };
}

/** Free components away from their floor, or on it with a score that points inward. */
function activeOf({ isFree, floor }: Objective, { v, at }: Point): number[] {
  const score = (at.derivatives as Derivatives).score;
  return v.flatMap((value, j) =>
    isFree[j] && (value > (floor[j] as number) || (score[j] as number) < 0) ? [j] : [],
  );
}

/** The largest score of the components in the interior, as a share of the terms that cancel in it. */
function relativeScore({ isFree, floor }: Objective, { v, at }: Point): number {
  const d = at.derivatives as Derivatives;
  return Math.max(
    0,
    ...v.map((value, j) =>
      isFree[j] && value > (floor[j] as number)
        ? Math.abs(d.score[j] as number) / (d.scoreScale[j] as number)
        : 0,
    ),
  );
}

/** Whole Newton steps from the optimum until the score is as small as it can be told. */
function polish(objective: Objective, from: Point): { point: Point; evaluations: number } {
  let point = from;
  let left = relativeScore(objective, point);
  let evaluations = 0;
  while (left > SCORE_TOLERANCE && evaluations < MAX_POLISHING) {
    const active = activeOf(objective, point).filter(
      (j) => (point.v[j] as number) > (objective.floor[j] as number),
    );
    const step = stepFrom(point.at.derivatives as Derivatives, active);
    const next = point.v.map((value, j) => value + (active.includes(j) ? (step.move[j] as number) : 0));
    if (active.some((j) => !((next[j] as number) > (objective.floor[j] as number)))) break;
    const trial = attempt(objective, next);
    evaluations++;
    const remaining = trial === null ? Number.POSITIVE_INFINITY : relativeScore(objective, trial);
    if (trial === null || !(remaining < left)) break;
    point = trial;
    left = remaining;
  }
  return { point, evaluations };
}

/** The first evaluation; without known variances the overall scale has a closed form, taken at once. */
function begin(objective: Objective, start: readonly number[]): { point: Point; evaluations: number } {
  const { problem, isFree, floor, held, moderation } = objective;
  const place = (values: readonly number[]) =>
    values.map((value, j) => (isFree[j] ? Math.max(value, floor[j] as number) : (held[j] as number)));
  const first = evaluatePoint(objective, place(start));
  const degrees = problem.structure.runs - problem.p;
  const quadratic = first.at.residualQuadratic;
  const isSettled =
    problem.structure.hasKnownVariance ||
    held.some((value) => value > 0) ||
    Object.keys(moderation).length > 0;
  if (isSettled || degrees <= 0 || !(quadratic > 0)) return { point: first, evaluations: 1 };
  const ratio = quadratic / degrees;
  if (Math.abs(ratio - 1) < NEAR_SCALE) return { point: first, evaluations: 1 };
  return {
    point: evaluatePoint(objective, place(first.v.map((value) => value * ratio))),
    evaluations: 2,
  };
}

/** Takes a step, halved until the criterion does not rise; null where no share of it helps. */
function takeStep(
  objective: Objective,
  from: Point,
  step: Step,
  active: readonly number[],
): { point: Point | null; evaluations: number } {
  const { floor, moderation } = objective;
  const noise = DEVIANCE_NOISE * Math.abs(from.value);
  const largest = Math.max(...from.v);
  let share = 1;
  for (let halving = 1; halving <= MAX_HALVINGS; halving++) {
    const next = from.v.map((value, j) => {
      if (!active.includes(j)) return value;
      const moved = value + share * (step.move[j] as number);
      // A component with a prior cannot be 0: it comes down by at most nine tenths at a time.
      const name = COMPONENTS[j] as Component;
      return Math.max(
        floor[j] as number,
        moderation[name] === undefined ? moved : Math.max(moved, value / 10),
      );
    });
    const trial = attempt(objective, next);
    if (trial !== null && Number.isFinite(trial.value) && trial.value <= from.value + noise) {
      return { point: trial, evaluations: halving };
    }
    share /= 2;
    const size = Math.max(...active.map((j) => Math.abs(share * (step.move[j] as number))));
    if (size < STEP_TOLERANCE * largest) return { point: null, evaluations: halving };
  }
  return { point: null, evaluations: MAX_HALVINGS };
}

function evaluatePoint({ problem, moderation }: Objective, v: number[]): Point {
  const variances = toVariances(v);
  const at = evaluate(problem, variances, true);
  if (Object.keys(moderation).length === 0) return { v, at, value: at.deviance };
  const derivatives = withPriors(at.derivatives as Derivatives, moderation, variances);
  return { v, at: { ...at, derivatives }, value: at.deviance + penalty(moderation, variances) };
}

/** An evaluation, or null where rounding has made the information singular: a step too far. */
function attempt(objective: Objective, v: number[]): Point | null {
  try {
    return evaluatePoint(objective, v);
  } catch (error) {
    if (error instanceof NotPositiveDefinite) return null;
    throw error;
  }
}

/** Whether the remaining predicted gain of the deviance is below what double precision resolves. */
function isStationary(d: Derivatives, active: readonly number[], v: readonly number[]): boolean {
  return active.every((j) => {
    const information = Math.abs(d.expected[j * (v.length + 1)] as number);
    const gain = (d.score[j] as number) ** 2 / Math.max(information, 1e-300);
    return gain < 1e-8 || Math.abs((d.score[j] as number) * (v[j] as number)) < 1e-6;
  });
}

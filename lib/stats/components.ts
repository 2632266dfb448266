import { COMPONENTS, type Component, type Variances } from './accumulate';
import { identify, invertInformation, isSeparable } from './componentInformation';
import { type Derivatives, type Evaluation, evaluate } from './criterion';
import type { PooledComponents } from './groupFit';
import { type DfMethod, rescale } from './inference';
import { observedInformation } from './newtonStep';
import { type Problem, suit, toScaled } from './problem';
import { type FreeComponents, fitReml } from './reml';
import { covarianceOfVariances } from './satterthwaite';

/**
 * Below these a group does not estimate its own components when pooled ones are at hand. Common practice,
 * no source: five levels are the least from which a variance between levels is usually attempted.
 */
export const OWN_COMPONENTS_NEED = { cars: 5, residualDf: 10 } as const;

/** Kenward–Roger below this many cars, Satterthwaite from there on (method B3). */
export const KENWARD_ROGER_BELOW_CARS = 20;

export interface FittedComponents {
  /** The problem in the unit of `at`. */
  problem: Problem;
  at: Evaluation | null;
  components: Variances;
  /** Original units, 3 × 3 flat. */
  covariance: Float64Array;
  free: Component[];
  interior: Component[];
  boundary: Component[];
  unidentified: Component[];
  pooled: boolean;
  converged: boolean;
  evaluations: number;
  method: DfMethod | 'none';
}

/** Components of a group: its own by REML, or the pooled ones where the group is too small. */
export function fitComponents(
  problem: Problem,
  wanted: FreeComponents,
  pooled: PooledComponents | undefined,
  start: Variances | undefined,
): FittedComponents {
  const { structure } = problem;
  const names = COMPONENTS.filter((name) => wanted[name]);
  const residualDf = structure.runs - problem.p;
  const free = identifyFree(problem, wanted, residualDf);
  const unidentified = names.filter((name) => !free[name]);
  if (pooled !== undefined && isTooSmall(problem, wanted)) return takePooled(problem, wanted, pooled);
  let evaluations = 0;
  for (const chosen of retreats(free)) {
    if (!chosen.residual) break;
    const fit = fitReml(problem, chosen, start);
    evaluations += fit.evaluations;
    const d = fit.at.derivatives as Derivatives;
    const freeNames = COMPONENTS.filter((name) => chosen[name]);
    const components = withZeros(rescale(fit.at.variances, problem.scale), fit.boundary);
    const givenUp = names.filter((name) => !chosen[name]);
    if (fit.boundary.includes('residual') && structure.leastKnownVariance === 0) {
      // Runs that agree to the last digit and state no uncertainty: no interval can be had from them.
      const found = { components, boundary: fit.boundary, converged: fit.converged, evaluations };
      return { ...withoutInference(problem, givenUp), ...found };
    }
    // With very few runs the components can be told apart in general, yet not at the optimum itself.
    if (!isSeparable(d.expected, freeNames)) continue;
    const few = structure.cars < KENWARD_ROGER_BELOW_CARS;
    const method: DfMethod = fit.boundary.length > 0 || few ? 'kenward-roger' : 'satterthwaite';
    const scaled =
      method === 'kenward-roger'
        ? invertInformation(d.expected, freeNames)
        : covarianceOfVariances(observedInformation(d), d.expected, fit.interior);
    return {
      problem,
      at: fit.at,
      components,
      covariance: scaled.map((x) => x * problem.scale ** 4),
      free: freeNames,
      interior: fit.interior,
      boundary: fit.boundary,
      unidentified: givenUp,
      pooled: false,
      converged: fit.converged,
      evaluations,
      method,
    };
  }
  return withoutInference(problem, unidentified);
}

/** Too few cars or repeats, or a layout that cannot tell the components apart. */
export function isTooSmall(problem: Problem, wanted: FreeComponents): boolean {
  const { structure, p } = problem;
  const residualDf = structure.runs - p;
  if (residualDf < OWN_COMPONENTS_NEED.residualDf) return true;
  if (wanted.car && structure.cars < OWN_COMPONENTS_NEED.cars) return true;
  const free = identifyFree(problem, wanted, residualDf);
  return COMPONENTS.some((name) => wanted[name] && !free[name]);
}

/** The components to try, fewer each time: session is given up first, then car, then both. */
function retreats(free: FreeComponents): FreeComponents[] {
  const tries = [
    free,
    { ...free, session: false },
    { ...free, car: false },
    { ...free, car: false, session: false },
  ];
  return tries.filter(
    (one, i) => tries.findIndex((other) => other.car === one.car && other.session === one.session) === i,
  );
}

/** A group whose runs give means but no variance to judge them by. */
function withoutInference(problem: Problem, unidentified: Component[]): FittedComponents {
  return {
    problem,
    at: null,
    components: { car: 0, session: 0, residual: 0 },
    covariance: new Float64Array(9),
    free: [],
    interior: [],
    boundary: [],
    unidentified,
    pooled: false,
    converged: false,
    evaluations: 0,
    method: 'none',
  };
}

/** A component on the boundary is exactly 0; the fit itself may have held it at a floor above rounding. */
function withZeros(components: Variances, boundary: readonly Component[]): Variances {
  const zeros = Object.fromEntries(boundary.map((name) => [name, 0]));
  return { ...components, ...zeros };
}

function identifyFree(problem: Problem, wanted: FreeComponents, residualDf: number): FreeComponents {
  if (residualDf <= 0) return { car: false, session: false, residual: false };
  const probe = { car: wanted.car ? 0.25 : 0, session: wanted.session ? 0.25 : 0, residual: 0.5 };
  const at = evaluate(problem, probe, true);
  return identify(at.derivatives as Derivatives, [probe.car, probe.session, probe.residual], wanted);
}

function takePooled(problem: Problem, wanted: FreeComponents, pooled: PooledComponents): FittedComponents {
  const components: Variances = {
    car: wanted.car ? pooled.car : 0,
    session: wanted.session ? pooled.session : 0,
    residual: pooled.residual,
  };
  const suited = suit(problem, components);
  const at = evaluate(suited, toScaled(suited, components), true);
  return {
    problem: suited,
    at,
    components,
    covariance: Float64Array.from(pooled.covariance.flat()),
    free: [],
    interior: [],
    boundary: [],
    unidentified: [],
    pooled: true,
    converged: true,
    evaluations: 1,
    method: 'pooled',
  };
}

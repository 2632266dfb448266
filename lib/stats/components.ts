import { COMPONENT_COUNT, COMPONENTS, type Component, type Variances } from './accumulate';
import { identify, invertInformation, isSeparable } from './componentInformation';
import { type Derivatives, type Evaluation, evaluate } from './criterion';
import type { ComponentOrigin, PooledCarLoop } from './groupFit';
import { carsOnTwoLoops } from './groupLayout';
import { type DfMethod, rescale } from './inference';
import { type Moderation, type SeenDegrees, seenDegrees } from './moderation';
import { observedInformation } from './newtonStep';
import { type Problem, prepare, suit } from './problem';
import { type FreeComponents, fitReml, type RemlFit, type RemlOptions } from './reml';
import { covarianceOfVariances } from './satterthwaite';
import type { Structure } from './structure';

/**
 * Cars that must have driven two loops before the variance of a car on a loop is estimated (method B1). Common
 * practice, no source: five levels are the least from which a variance between levels is usually attempted.
 */
export const CARS_ON_TWO_LOOPS_NEED = 5;

/** Kenward–Roger below this many physical cars, Satterthwaite from there on (method B3). */
export const KENWARD_ROGER_BELOW_CARS = 20;

export interface ComponentChoice {
  /** Components that the data have columns for. */
  wanted: FreeComponents;
  pooledCarLoop?: PooledCarLoop | undefined;
  /** Priors by component for a young class, original units. */
  moderation?: Moderation | undefined;
}

export interface FittedComponents {
  /** The problem in the unit of `at`. */
  problem: Problem;
  at: Evaluation | null;
  components: Variances;
  origins: Record<Component, ComponentOrigin>;
  /** Original units, 4 × 4 flat. */
  covariance: Float64Array;
  free: Component[];
  interior: Component[];
  boundary: Component[];
  unidentified: Component[];
  /** Set where the car on a loop comes from elsewhere. */
  borrowed: { component: Component; variance: number } | undefined;
  converged: boolean;
  evaluations: number;
  method: DfMethod | 'none';
}

/** Components of a group by REML, moderated where priors are given. */
export function fitComponents(structure: Structure, choice: ComponentChoice): FittedComponents {
  const { wanted, moderation = {} } = choice;
  const pooled = choice.pooledCarLoop;
  const ownLoops = wanted.carLoop && carsOnTwoLoops(structure) >= CARS_ON_TWO_LOOPS_NEED;
  const borrows = wanted.car && wanted.carLoop && !ownLoops && pooled !== undefined && pooled.variance > 0;
  const asked: FreeComponents = { ...wanted, carLoop: ownLoops };
  const problem = readyFor(structure, ownLoops, borrows ? pooled.variance : 0, moderation);
  const options: RemlOptions = { moderation, ...(borrows ? { held: { carLoop: pooled.variance } } : {}) };
  const borrowed = borrows
    ? { component: 'carLoop' as const, variance: pooled.varianceOfVariance }
    : undefined;
  const names = COMPONENTS.filter((name) => asked[name]);
  const free = freeIn(problem, asked, moderation);
  let evaluations = 0;
  for (const chosen of retreats(free)) {
    if (!chosen.residual) break;
    const fit = fitReml(problem, chosen, options);
    evaluations += fit.evaluations;
    const givenUp = names.filter((name) => !chosen[name]);
    if (repeatsExactly(structure, fit)) {
      // Runs that agree to the last digit and state no uncertainty: no interval can be had from them.
      const components = withZeros(rescale(fit.at.variances, problem.scale), fit.boundary);
      return { ...withoutInference(problem, givenUp), components, boundary: fit.boundary, evaluations };
    }
    // With very few runs the components can be told apart in general, yet not at the optimum itself.
    const freeNames = COMPONENTS.filter((name) => chosen[name]);
    if (!isSeparable((fit.at.derivatives as Derivatives).expected, freeNames)) continue;
    const origins = originsOf(seenDegrees(structure), chosen, moderation, borrows);
    return { ...describeFit(problem, fit, freeNames, givenUp), origins, borrowed, evaluations };
  }
  return withoutInference(
    problem,
    names.filter((name) => !free[name] || !free.residual),
  );
}

function describeFit(
  problem: Problem,
  fit: RemlFit,
  free: Component[],
  unidentified: Component[],
): Omit<FittedComponents, 'origins' | 'borrowed' | 'evaluations'> {
  const d = fit.at.derivatives as Derivatives;
  const few = problem.structure.cars < KENWARD_ROGER_BELOW_CARS;
  const method: DfMethod = fit.boundary.length > 0 || few ? 'kenward-roger' : 'satterthwaite';
  const scaled =
    method === 'kenward-roger'
      ? invertInformation(d.expected, free)
      : covarianceOfVariances(observedInformation(d), d.expected, fit.interior);
  return {
    problem,
    at: fit.at,
    components: withZeros(rescale(fit.at.variances, problem.scale), fit.boundary),
    covariance: scaled.map((x) => x * problem.scale ** 4),
    free,
    interior: fit.interior,
    boundary: fit.boundary,
    unidentified,
    converged: fit.converged,
    method,
  };
}

/** The unit is the spread of the data, or what is known beforehand where that is more, as with one run a setup. */
function readyFor(structure: Structure, ownLoops: boolean, held: number, moderation: Moderation): Problem {
  const problem = prepare(structure, null, ownLoops || held > 0);
  const assumed = {
    car: moderation.car?.s2 ?? 0,
    carLoop: held,
    session: moderation.session?.s2 ?? 0,
    residual: moderation.residual?.s2 ?? 0,
  };
  const suited = suit(problem, assumed);
  const isWider = structure.runs <= problem.p || suited.scale > problem.scale;
  return isWider ? suited : problem;
}

/** A component with a prior can always be had; the others as far as the layout tells them apart. */
function freeIn(problem: Problem, asked: FreeComponents, moderation: Moderation): FreeComponents {
  const residualDf = problem.structure.runs - problem.p;
  const rest = { ...asked };
  for (const name of COMPONENTS) if (moderation[name] !== undefined) rest[name] = false;
  if (COMPONENTS.every((name) => !rest[name])) return asked;
  const found = residualDf > 0 ? identifyFree(problem, asked) : NOTHING;
  const free = { ...found };
  for (const name of COMPONENTS) if (asked[name] && moderation[name] !== undefined) free[name] = true;
  return free;
}

const NOTHING: FreeComponents = { car: false, carLoop: false, session: false, residual: false };

function identifyFree(problem: Problem, wanted: FreeComponents): FreeComponents {
  const probe = {
    car: wanted.car ? 0.25 : 0,
    carLoop: wanted.carLoop ? 0.25 : 0,
    session: wanted.session ? 0.25 : 0,
    residual: 0.5,
  };
  const at = evaluate(problem, probe, true);
  return identify(
    at.derivatives as Derivatives,
    COMPONENTS.map((name) => probe[name]),
    wanted,
  );
}

/** The components to try, fewer each time: session is given up first, then car on a loop, then car. */
function retreats(free: FreeComponents): FreeComponents[] {
  const without = (...names: Component[]) => ({
    ...free,
    ...Object.fromEntries(names.map((name) => [name, false])),
  });
  const tries = [
    free,
    without('session'),
    without('carLoop'),
    without('car'),
    without('session', 'carLoop'),
    without('car', 'carLoop', 'session'),
  ];
  const nameOf = (one: FreeComponents) => COMPONENTS.map((name) => Number(one[name])).join('');
  return tries.filter((one, i) => tries.findIndex((other) => nameOf(other) === nameOf(one)) === i);
}

/** With every u = 0 a residual of 0 makes each run exact; a single run stated as exact among others does not. */
function repeatsExactly(structure: Structure, fit: RemlFit): boolean {
  return fit.boundary.includes('residual') && !structure.hasKnownVariance;
}

function originsOf(
  seen: SeenDegrees,
  chosen: FreeComponents,
  moderation: Moderation,
  borrows: boolean,
): Record<Component, ComponentOrigin> {
  const of = (name: Component): ComponentOrigin => {
    if (!chosen[name]) return name === 'carLoop' && borrows ? 'pooled' : 'none';
    if (moderation[name] === undefined) return 'own';
    return seen[name] > 0 ? 'moderated' : 'assumed';
  };
  return { car: of('car'), carLoop: of('carLoop'), session: of('session'), residual: of('residual') };
}

/** A group whose runs give means but no variance to judge them by: nothing was attempted, so nothing failed. */
function withoutInference(problem: Problem, unidentified: Component[]): FittedComponents {
  return {
    problem,
    at: null,
    components: { car: 0, carLoop: 0, session: 0, residual: 0 },
    origins: { car: 'none', carLoop: 'none', session: 'none', residual: 'none' },
    covariance: new Float64Array(COMPONENT_COUNT * COMPONENT_COUNT),
    free: [],
    interior: [],
    boundary: [],
    unidentified,
    borrowed: undefined,
    converged: true,
    evaluations: 0,
    method: 'none',
  };
}

/** A component on the boundary is exactly 0; the fit itself may have held it at a floor above rounding. */
function withZeros(components: Variances, boundary: readonly Component[]): Variances {
  const zeros = Object.fromEntries(boundary.map((name) => [name, 0]));
  return { ...components, ...zeros };
}

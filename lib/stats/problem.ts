import { factor, solve } from '@/lib/numerics/cholesky';
import type { Variances } from './accumulate';
import type { Structure } from './structure';

/**
 * A structure made ready for fitting: the response centred by a first least-squares fit and divided by
 * its residual spread, so that the optimiser sees numbers of order one whatever the unit, and an optional
 * linear design over the setups (setup effects = design · coefficients) for factor models.
 */
export interface Problem {
  structure: Structure;
  /** Whether the model has the level of a car on a loop between car and session. */
  hasCarLoop: boolean;
  /** Number of free fixed effects. */
  p: number;
  /** m × p row-major design over the setups; null means one free effect a setup. */
  design: Float64Array | null;
  /** Residual standard deviation of the unweighted least-squares fit; the unit of everything below. */
  scale: number;
  /** What `offset` is relative to, original units: a large common constant that would cost digits. */
  base: number;
  /** First-fit effects, in original units, subtracted from the response. */
  offset: Float64Array;
  z: Float64Array;
  squares: Float64Array;
  knownVariance: Float64Array;
}

/**
 * Least residual variance of any run, as a share of the scale: the blockwise sums lose as many digits as
 * separate a run's variance from the whole, so half of double precision is kept for the result.
 */
const LEAST_RUN_VARIANCE = 1e-8;

/** Least value of the residual component of a problem, scaled units; 0 where known variances suffice. */
export function residualFloor(problem: Problem): number {
  return Math.max(0, LEAST_RUN_VARIANCE - problem.structure.leastKnownVariance / problem.scale ** 2);
}

/** Components of a fit, in original units, as the evaluation takes them. */
export function toScaled(problem: Problem, components: Variances): Variances {
  const square = problem.scale ** 2;
  return {
    car: components.car / square,
    carLoop: components.carLoop / square,
    session: components.session / square,
    residual: Math.max(components.residual / square, residualFloor(problem)),
  };
}

/** Prepares a structure; `design` (m rows of p numbers) must have full column rank. */
export function prepare(
  structure: Structure,
  design: readonly (readonly number[])[] | null = null,
  hasCarLoop = false,
): Problem {
  const m = structure.setups.length;
  const p = design === null ? m : (design[0]?.length ?? 0);
  const flat = design === null ? null : Float64Array.from(design.flat());
  // A design need not hold a constant, so there the values count from 0.
  const base = design === null ? structure.origin : 0;
  const shift = structure.origin - base;
  const totals = new Float64Array(m);
  const centre = new Float64Array(m);
  for (let i = 0; i < structure.cells; i++) {
    const k = structure.cellSetup[i] as number;
    const n = structure.count[i] as number;
    totals[k] = (totals[k] as number) + n;
    centre[k] =
      (centre[k] as number) +
      (n / (totals[k] as number)) * ((structure.mean[i] as number) + shift - (centre[k] as number));
  }
  const offset = flat === null ? centre : fitDesign(flat, m, p, totals, centre);
  const z = new Float64Array(structure.cells);
  let sum = 0;
  for (let i = 0; i < structure.cells; i++) {
    z[i] = (structure.mean[i] as number) + shift - (offset[structure.cellSetup[i] as number] as number);
    sum += (structure.count[i] as number) * (z[i] as number) ** 2 + (structure.squares[i] as number);
  }
  const degrees = structure.runs - p;
  const spread = degrees > 0 ? Math.sqrt(sum / degrees) : 0;
  const known = Math.sqrt(structure.knownVariance.reduce((most, value) => Math.max(most, value), 0));
  const scale = spread > LEAST_SCALE ? spread : known > LEAST_SCALE ? known : 1;
  return inUnitsOf(
    {
      structure,
      hasCarLoop,
      p,
      design: flat,
      scale: 1,
      base,
      offset,
      z,
      squares: structure.squares,
      knownVariance: structure.knownVariance,
    },
    scale,
  );
}

/** Below this a spread is no unit: its square would vanish. */
const LEAST_SCALE = 1e-100;

/** The same problem with another unit. */
export function inUnitsOf(problem: Problem, scale: number): Problem {
  const ratio = problem.scale / scale;
  const square = ratio * ratio;
  return {
    ...problem,
    scale,
    z: problem.z.map((value) => value * ratio),
    squares: problem.squares.map((value) => value * square),
    knownVariance: problem.knownVariance.map((value) => value * square),
  };
}

/** A problem whose unit suits given components, for evaluating without fitting. */
export function prepareFor(structure: Structure, components: Variances): Problem {
  return suit(prepare(structure, null, components.carLoop > 0), components);
}

/** The same problem in the unit of given components, unless these are all 0. */
export function suit(problem: Problem, components: Variances): Problem {
  const scale = Math.sqrt(components.car + components.carLoop + components.session + components.residual);
  return scale > LEAST_SCALE ? inUnitsOf(problem, scale) : problem;
}

/** Weighted least squares of the setup means on the design; returns the fitted setup means. */
function fitDesign(
  design: Float64Array,
  m: number,
  p: number,
  weights: Float64Array,
  means: Float64Array,
): Float64Array {
  let grand = 0;
  for (let k = 0; k < m; k++) grand += (means[k] as number) / m;
  const normal = new Float64Array(p * p);
  const right = new Float64Array(p);
  for (let k = 0; k < m; k++) {
    for (let i = 0; i < p; i++) {
      const x = (weights[k] as number) * (design[k * p + i] as number);
      right[i] = (right[i] as number) + x * ((means[k] as number) - grand);
      for (let j = 0; j < p; j++) {
        normal[i * p + j] = (normal[i * p + j] as number) + x * (design[k * p + j] as number);
      }
    }
  }
  const coefficients = solve(factor(normal, p), p, right);
  const fitted = new Float64Array(m);
  for (let k = 0; k < m; k++) {
    for (let i = 0; i < p; i++) {
      fitted[k] = (fitted[k] as number) + (design[k * p + i] as number) * (coefficients[i] as number);
    }
  }
  return fitted;
}

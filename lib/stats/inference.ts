import { multiply } from '@/lib/numerics/cholesky';
import { COMPONENT_COUNT, COMPONENTS, type Component, type Variances } from './accumulate';
import { invertInformation } from './componentInformation';
import type { Derivatives, Evaluation } from './criterion';
import { adjustCovariance } from './kenwardRoger';
import { observedInformation } from './newtonStep';
import type { Problem } from './problem';
import { covarianceOfVariances, satterthwaiteDf } from './satterthwaite';

/** `known`: the components are taken as given. */
export type DfMethod = 'kenward-roger' | 'satterthwaite' | 'known';

/** Setup effects with their covariance and what a contrast needs for its degrees of freedom. */
export interface Inference {
  m: number;
  method: DfMethod;
  /** Setup effects in original units, relative to `base`. */
  base: number;
  effects: Float64Array;
  /** Covariance of the setup effects used for standard errors, original units, m × m. */
  covariance: Float64Array;
  /** (X'V⁻¹X)⁻¹ without a small-sample correction, scaled units, m × m. */
  plain: Float64Array;
  /** ∂ plain / ∂ v_j, scaled units, m × m each. */
  sensitivities: Float64Array[];
  /** Covariance of the variance components, scaled units, 4 × 4, zero rows for absent ones. */
  varianceCovariance: Float64Array;
}

export interface ContrastResult {
  difference: number;
  se: number;
  df: number;
}

/** D a D' for a p × p matrix a and the problem's m × p design; a itself without a design. */
function widen(problem: Problem, a: Float64Array): Float64Array {
  const { design, p } = problem;
  if (design === null) return a;
  const m = problem.structure.setups.length;
  const wide = new Float64Array(m * m);
  const half = new Float64Array(m * p);
  for (let i = 0; i < m; i++) {
    for (let k = 0; k < p; k++) {
      for (let j = 0; j < p; j++) {
        half[i * p + j] =
          (half[i * p + j] as number) + (design[i * p + k] as number) * (a[k * p + j] as number);
      }
    }
  }
  for (let i = 0; i < m; i++) {
    for (let j = 0; j < m; j++) {
      let sum = 0;
      for (let k = 0; k < p; k++) sum += (half[i * p + k] as number) * (design[j * p + k] as number);
      wide[i * m + j] = sum;
    }
  }
  return wide;
}

export interface InferenceChoice {
  method: DfMethod;
  /** Estimated components, boundary ones included. */
  free: readonly Component[];
  /** Estimated components away from 0. */
  interior: readonly Component[];
  /** Variance of a component taken from elsewhere, original units (variance² units). */
  borrowed?: { component: Component; variance: number };
}

/**
 * Setup effects and covariance at fitted variances: plain for Satterthwaite, adjusted for Kenward–Roger,
 * or plain with the components taken as known.
 */
export function infer(problem: Problem, at: Evaluation, choice: InferenceChoice): Inference {
  const d = at.derivatives as Derivatives;
  const { p, scale } = problem;
  const m = problem.structure.setups.length;
  const square = scale * scale;
  let varianceCovariance: Float64Array;
  let covariance = at.covariance;
  if (choice.method === 'known') {
    varianceCovariance = new Float64Array(COMPONENT_COUNT * COMPONENT_COUNT);
  } else if (choice.method === 'kenward-roger') {
    varianceCovariance = invertInformation(d.expected, choice.free);
    covariance = adjustCovariance(at.covariance, d, varianceCovariance, p);
  } else {
    varianceCovariance = covarianceOfVariances(observedInformation(d), d.expected, choice.interior);
  }
  if (choice.borrowed !== undefined) {
    const at = COMPONENTS.indexOf(choice.borrowed.component) * (COMPONENT_COUNT + 1);
    varianceCovariance[at] = choice.borrowed.variance / (square * square);
  }
  const sensitivities = COMPONENTS.map((_, j) =>
    widen(problem, multiply(at.covariance, multiply(d.first[j] as Float64Array, at.covariance, p), p)),
  );
  const effects = new Float64Array(m);
  for (let k = 0; k < m; k++) {
    let sum = 0;
    if (problem.design === null) sum = at.coefficients[k] as number;
    else {
      for (let i = 0; i < p; i++) {
        sum += (problem.design[k * p + i] as number) * (at.coefficients[i] as number);
      }
    }
    effects[k] = (problem.offset[k] as number) + scale * sum;
  }
  return {
    m,
    base: problem.base,
    method: choice.method,
    effects,
    covariance: widen(problem, covariance).map((x) => x * square),
    plain: widen(problem, at.covariance),
    sensitivities,
    varianceCovariance,
  };
}

/** Quadratic form of a weight vector given as sparse (index, weight) pairs. */
function quadratic(a: Float64Array, m: number, terms: readonly (readonly [number, number])[]): number {
  let sum = 0;
  for (const [i, x] of terms) for (const [j, y] of terms) sum += x * y * (a[i * m + j] as number);
  return sum;
}

/** Estimate, standard error and degrees of freedom of Σ weight · effect. */
export function contrast(
  inference: Inference,
  terms: readonly (readonly [number, number])[],
): ContrastResult {
  const { m } = inference;
  let difference = 0;
  let total = 0;
  for (const [i, x] of terms) {
    difference += x * (inference.effects[i] as number);
    total += x;
  }
  const variance = quadratic(inference.covariance, m, terms);
  const plain = quadratic(inference.plain, m, terms);
  const gradient = inference.sensitivities.map((a) => quadratic(a, m, terms));
  return {
    // Weights that sum to 0 leave the base out to the last digit.
    difference: total === 0 ? difference : difference + total * inference.base,
    se: Math.sqrt(Math.max(0, variance)),
    df: satterthwaiteDf(plain, gradient, inference.varianceCovariance),
  };
}

/** Converts scaled variances back to original units. */
export function rescale(v: Variances, scale: number): Variances {
  const square = scale * scale;
  return {
    car: v.car * square,
    carLoop: v.carLoop * square,
    session: v.session * square,
    residual: v.residual * square,
  };
}

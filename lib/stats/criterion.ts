import {
  factor,
  inverse,
  logDeterminant,
  mirror,
  multiply,
  solve,
  traceOfProduct,
  transpose,
} from '@/lib/numerics/cholesky';
import {
  accumulate,
  COMPONENT_COUNT,
  COMPONENTS,
  type CrossProducts,
  pairIndex,
  type Variances,
} from './accumulate';
import type { Problem } from './problem';

/** Everything one evaluation of the REML criterion yields, in scaled units. */
export interface Evaluation {
  variances: Variances;
  deviance: number;
  /** z'Pz. */
  residualQuadratic: number;
  /** Free coefficients, scaled and relative to the offset. */
  coefficients: Float64Array;
  /** (X'V⁻¹X)⁻¹ of the free coefficients, p × p. */
  covariance: Float64Array;
  cross: Float64Array;
  derivatives: Derivatives | null;
}

export interface Derivatives {
  /** ∂ deviance / ∂ v_j. */
  score: Float64Array;
  /** Size of the terms that cancel in each score, tr(PG_j) + z'PG_jPz: what a small score is small against. */
  scoreScale: Float64Array;
  /** Expected information ½ tr(P G_j P G_k) of v, 4 × 4. */
  expected: Float64Array;
  /** Average information ½ z'P G_j P G_k P z of v, 4 × 4. */
  average: Float64Array;
  /** X'V⁻¹G_jV⁻¹X, each p × p. */
  first: Float64Array[];
  /** Symmetrised X'V⁻¹G_jV⁻¹G_kV⁻¹X in the order of `pairIndex`. */
  second: Float64Array[];
}

/** Reduces an (m+1)-square matrix of setups and response to (p+1): [D 0; 0 1]' a [D 0; 0 1]. */
function reduce(a: Float64Array, m: number, p: number, design: Float64Array): Float64Array {
  const wide = m + 1;
  const narrow = p + 1;
  const half = new Float64Array(wide * narrow);
  for (let i = 0; i < wide; i++) {
    for (let k = 0; k < m; k++) {
      const value = a[i * wide + k] as number;
      if (value === 0) continue;
      for (let j = 0; j < p; j++) {
        half[i * narrow + j] = (half[i * narrow + j] as number) + value * (design[k * p + j] as number);
      }
    }
    half[i * narrow + p] = a[i * wide + m] as number;
  }
  const result = new Float64Array(narrow * narrow);
  for (let k = 0; k < m; k++) {
    for (let i = 0; i < p; i++) {
      const x = design[k * p + i] as number;
      if (x === 0) continue;
      for (let j = 0; j < narrow; j++) {
        result[i * narrow + j] = (result[i * narrow + j] as number) + x * (half[k * narrow + j] as number);
      }
    }
  }
  for (let j = 0; j < narrow; j++) result[p * narrow + j] = half[m * narrow + j] as number;
  return result;
}

/** The leading p × p block of a (p+1)-square matrix. */
function leading(a: Float64Array, p: number): Float64Array {
  const block = new Float64Array(p * p);
  for (let i = 0; i < p; i++) block.set(a.subarray(i * (p + 1), i * (p + 1) + p), i * p);
  return block;
}

const LN_TWO_PI = Math.log(2 * Math.PI);

/**
 * The REML criterion −2 ln L_R = ln|V| + ln|X'V⁻¹X| + z'Pz + (N − p) ln 2π at scaled variances, with β
 * profiled out, and its derivatives when asked.
 * Patterson H. D., Thompson R. (1971), Biometrika 58, 545; constants as in lme4 (Bates et al. 2015, JSS 67(1)).
 */
export function evaluate(problem: Problem, variances: Variances, withDerivatives: boolean): Evaluation {
  const { structure, p, design } = problem;
  const m = structure.setups.length;
  const products = accumulate(
    structure,
    problem.z,
    problem.squares,
    problem.knownVariance,
    variances,
    problem.hasCarLoop,
    withDerivatives,
  );
  const narrow = (a: Float64Array): Float64Array => {
    mirror(a, m + 1);
    return design === null ? a : reduce(a, m, p, design);
  };
  const cross = narrow(products.cross);
  const information = leading(cross, p);
  const lower = factor(information, p);
  const right = cross.slice(p * (p + 1), p * (p + 1) + p);
  const coefficients = solve(lower, p, right);
  let residualQuadratic = cross[p * (p + 1) + p] as number;
  for (let i = 0; i < p; i++) residualQuadratic -= (right[i] as number) * (coefficients[i] as number);
  residualQuadratic = Math.max(0, residualQuadratic);
  const degrees = structure.runs - p;
  const deviance =
    products.logDetV +
    logDeterminant(lower, p) +
    residualQuadratic +
    degrees * (LN_TWO_PI + 2 * Math.log(problem.scale));
  const covariance = withDerivatives ? inverse(lower, p) : new Float64Array(0);
  return {
    variances,
    deviance,
    residualQuadratic,
    coefficients,
    covariance,
    cross,
    derivatives: withDerivatives ? differentiate(products, narrow, p, lower, covariance, coefficients) : null,
  };
}

function differentiate(
  products: CrossProducts,
  narrow: (a: Float64Array) => Float64Array,
  p: number,
  lower: Float64Array,
  covariance: Float64Array,
  coefficients: Float64Array,
): Derivatives {
  const raw = products.derivatives;
  if (raw === null) throw new TypeError('derivatives were not accumulated');
  const n = COMPONENT_COUNT;
  const score = new Float64Array(n);
  const scoreScale = new Float64Array(n);
  const expected = new Float64Array(n * n);
  const average = new Float64Array(n * n);
  const first: Float64Array[] = [];
  const residualSides: Float64Array[] = [];
  const scaledFirst: Float64Array[] = [];
  const transposed: Float64Array[] = [];
  const width = p + 1;
  for (let j = 0; j < COMPONENTS.length; j++) {
    const matrix = narrow(raw.first[j] as Float64Array);
    const block = leading(matrix, p);
    // X'V⁻¹G_jV⁻¹e with e = z − Xβ, and its quadratic counterpart.
    const side = new Float64Array(p);
    let quadratic = matrix[p * width + p] as number;
    for (let i = 0; i < p; i++) {
      let sum = matrix[p * width + i] as number;
      quadratic -= (coefficients[i] as number) * sum;
      for (let k = 0; k < p; k++) sum -= (block[i * p + k] as number) * (coefficients[k] as number);
      side[i] = sum;
      quadratic -= (coefficients[i] as number) * sum;
    }
    const traceP = (raw.traceFirst[j] as number) - traceOfProduct(covariance, block, p);
    score[j] = traceP - quadratic;
    scoreScale[j] = Math.abs(traceP) + Math.abs(quadratic);
    first.push(block);
    residualSides.push(side);
    // The block is sparse (setups that share a car), so it goes on the left.
    const product = multiply(block, covariance, p);
    scaledFirst.push(product);
    transposed.push(transpose(product, p));
  }
  const second: Float64Array[] = [];
  for (let j = 0; j < COMPONENTS.length; j++) {
    for (let k = 0; k <= j; k++) {
      const matrix = narrow(raw.second[pairIndex(j, k)] as Float64Array);
      const block = leading(matrix, p);
      let quadratic = matrix[p * width + p] as number;
      for (let i = 0; i < p; i++) {
        let sum = matrix[p * width + i] as number;
        quadratic -= (coefficients[i] as number) * sum;
        for (let l = 0; l < p; l++) sum -= (block[i * p + l] as number) * (coefficients[l] as number);
        quadratic -= (coefficients[i] as number) * sum;
      }
      const solved = solve(lower, p, residualSides[k] as Float64Array);
      for (let i = 0; i < p; i++) {
        quadratic -= ((residualSides[j] as Float64Array)[i] as number) * (solved[i] as number);
      }
      const trace =
        (raw.traceSecond[j * n + k] as number) -
        2 * traceOfProduct(covariance, block, p) +
        traceOfProduct(scaledFirst[j] as Float64Array, transposed[k] as Float64Array, p);
      average[j * n + k] = average[k * n + j] = quadratic / 2;
      expected[j * n + k] = expected[k * n + j] = trace / 2;
      second.push(block);
    }
  }
  return { score, scoreScale, expected, average, first, second };
}

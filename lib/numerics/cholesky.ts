/**
 * Cholesky factorisation of small dense symmetric matrices, stored row by row in one typed array.
 * Only the lower triangle is read. Golub G. H., Van Loan C. F. (2013), Matrix Computations, §4.2.
 */

/** Thrown when a matrix that must be positive definite is not. */
export class NotPositiveDefinite extends Error {
  constructor(readonly pivot: number) {
    super(`the matrix is not positive definite at pivot ${pivot}`);
    this.name = 'NotPositiveDefinite';
  }
}

/**
 * The lower factor L with L L' = a.
 *
 * @param a symmetric n × n, row-major, lower triangle read
 * @param relativeTolerance a pivot below this share of its own diagonal counts as zero
 * @throws NotPositiveDefinite naming the pivot that failed
 */
export function factor(a: Float64Array, n: number, relativeTolerance = 1e-13): Float64Array {
  const lower = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    const rowJ = j * n;
    for (let i = j; i < n; i++) {
      const rowI = i * n;
      let sum = a[rowI + j] as number;
      for (let k = 0; k < j; k++) sum -= (lower[rowI + k] as number) * (lower[rowJ + k] as number);
      if (i === j) {
        const diagonal = a[rowJ + j] as number;
        if (!(sum > relativeTolerance * diagonal) || !(diagonal > 0)) throw new NotPositiveDefinite(j);
        lower[rowJ + j] = Math.sqrt(sum);
      } else {
        lower[rowI + j] = sum / (lower[rowJ + j] as number);
      }
    }
  }
  return lower;
}

/**
 * A lower L with L L' = a for a matrix that may be singular: directions without variance get a zero column.
 * Higham N. J. (2002), Accuracy and Stability of Numerical Algorithms, §10.3 (without pivoting).
 */
export function factorSemidefinite(a: Float64Array, n: number, relativeTolerance = 1e-10): Float64Array {
  const lower = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let sum = a[i * n + j] as number;
      for (let k = 0; k < j; k++) sum -= (lower[i * n + k] as number) * (lower[j * n + k] as number);
      if (i === j) {
        lower[j * n + j] = sum > relativeTolerance * (a[j * n + j] as number) ? Math.sqrt(sum) : 0;
      } else if ((lower[j * n + j] as number) > 0) {
        lower[i * n + j] = sum / (lower[j * n + j] as number);
      }
    }
  }
  return lower;
}

/** ln det(a) from its factor. */
export function logDeterminant(lower: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += Math.log(lower[i * n + i] as number);
  return 2 * sum;
}

/** Solves L L' x = b. */
export function solve(lower: Float64Array, n: number, b: ArrayLike<number>): Float64Array {
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    let sum = x[i] as number;
    for (let k = 0; k < i; k++) sum -= (lower[i * n + k] as number) * (x[k] as number);
    x[i] = sum / (lower[i * n + i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let k = i + 1; k < n; k++) sum -= (lower[k * n + i] as number) * (x[k] as number);
    x[i] = sum / (lower[i * n + i] as number);
  }
  return x;
}

/** The full symmetric inverse of L L', both triangles filled. */
export function inverse(lower: Float64Array, n: number): Float64Array {
  // Invert the factor first, then a⁻¹ = L⁻ᵀ L⁻¹: half the work of n solves.
  const inverseFactor = new Float64Array(n * n);
  for (let j = 0; j < n; j++) {
    inverseFactor[j * n + j] = 1 / (lower[j * n + j] as number);
    for (let i = j + 1; i < n; i++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= (lower[i * n + k] as number) * (inverseFactor[k * n + j] as number);
      inverseFactor[i * n + j] = sum / (lower[i * n + i] as number);
    }
  }
  const result = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i <= k; i++) {
      const factorI = inverseFactor[k * n + i] as number;
      if (factorI === 0) continue;
      for (let j = 0; j <= i; j++) {
        result[i * n + j] = (result[i * n + j] as number) + factorI * (inverseFactor[k * n + j] as number);
      }
    }
  }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) result[j * n + i] = result[i * n + j] as number;
  return result;
}

/** The plain product a·b of two n × n matrices. */
export function multiply(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const product = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const left = a[i * n + k] as number;
      if (left === 0) continue;
      for (let j = 0; j < n; j++) {
        product[i * n + j] = (product[i * n + j] as number) + left * (b[k * n + j] as number);
      }
    }
  }
  return product;
}

/** a'. */
export function transpose(a: Float64Array, n: number): Float64Array {
  const result = new Float64Array(n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) result[j * n + i] = a[i * n + j] as number;
  return result;
}

/** The trace of a·b' for two n × n matrices, or of a·b where b is symmetric with both triangles filled. */
export function traceOfProduct(a: Float64Array, b: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n * n; i++) sum += (a[i] as number) * (b[i] as number);
  return sum;
}

/** Copies the lower triangle of a symmetric matrix onto its upper triangle, in place. */
export function mirror(a: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) a[j * n + i] = a[i * n + j] as number;
  return a;
}

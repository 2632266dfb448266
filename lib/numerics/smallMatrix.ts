/** Dense symmetric positive-definite solves for matrices of a few hundred rows (Golub and Van Loan, 4.2). */
export type Matrix = readonly (readonly number[])[];

/** Lower factor L of A = L·Lᵀ; throws when A is not positive definite. */
export function choleskyFactor(matrix: Matrix): number[][] {
  const factor: number[][] = [];
  matrix.forEach((source, i) => {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      const other = j === i ? row : (factor[j] as number[]);
      let sum = source[j] as number;
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number);
      if (i === j) {
        if (!(sum > 0)) throw new RangeError('the matrix is not positive definite');
        row.push(Math.sqrt(sum));
      } else {
        row.push(sum / (other[j] as number));
      }
    }
    factor.push(row);
  });
  return factor;
}

/** Solves A·x = b from the factor of A. */
export function solveCholesky(factor: Matrix, right: readonly number[]): number[] {
  const n = factor.length;
  const x = right.slice();
  for (let i = 0; i < n; i++) {
    const row = factor[i] as readonly number[];
    let sum = x[i] as number;
    for (let k = 0; k < i; k++) sum -= (row[k] as number) * (x[k] as number);
    x[i] = sum / (row[i] as number);
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i] as number;
    for (let k = i + 1; k < n; k++) sum -= (factor[k]?.[i] as number) * (x[k] as number);
    x[i] = sum / (factor[i]?.[i] as number);
  }
  return x;
}

/** A⁻¹ from the factor of A. */
export function symmetricInverse(factor: Matrix): number[][] {
  const n = factor.length;
  return Array.from({ length: n }, (_, column) => {
    const unit = new Array<number>(n).fill(0);
    unit[column] = 1;
    return solveCholesky(factor, unit);
  });
}

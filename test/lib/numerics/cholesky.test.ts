import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  factor,
  factorSemidefinite,
  inverse,
  logDeterminant,
  multiply,
  NotPositiveDefinite,
  solve,
  traceOfProduct,
} from '@/lib/numerics/cholesky';

/** A random positive definite matrix B B' + I. */
const definite = fc.integer({ min: 1, max: 6 }).chain((n) =>
  fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: n * n, maxLength: n * n }).map((b) => {
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        a[i * n + j] = i === j ? 1 : 0;
        for (let k = 0; k < n; k++) {
          a[i * n + j] = (a[i * n + j] as number) + (b[i * n + k] as number) * (b[j * n + k] as number);
        }
      }
    }
    return { n, a };
  }),
);

describe('Cholesky factorisation', () => {
  it('solves and inverts', () => {
    fc.assert(
      fc.property(definite, ({ n, a }) => {
        const lower = factor(a, n);
        const identity = multiply(a, inverse(lower, n), n);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) expect(identity[i * n + j]).toBeCloseTo(i === j ? 1 : 0, 9);
        }
        const b = Float64Array.from({ length: n }, (_, i) => i + 1);
        const x = solve(lower, n, b);
        for (let i = 0; i < n; i++) {
          let sum = 0;
          for (let k = 0; k < n; k++) sum += (a[i * n + k] as number) * (x[k] as number);
          expect(sum).toBeCloseTo(i + 1, 9);
        }
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it('has the determinant and trace of a matrix worked by hand', () => {
    // [4 2; 2 3]: determinant 8; the trace of its square is 16 + 4 + 4 + 9 = 33.
    const a = Float64Array.of(4, 2, 2, 3);
    expect(logDeterminant(factor(a, 2), 2)).toBeCloseTo(Math.log(8), 14);
    expect(traceOfProduct(a, a, 2)).toBe(33);
  });

  it('factors a singular matrix with a zero column', () => {
    // Rank 1: (1, 2, 3)'(1, 2, 3).
    const a = Float64Array.from([1, 2, 3, 2, 4, 6, 3, 6, 9]);
    const lower = factorSemidefinite(a, 3);
    expect([...lower]).toEqual([1, 0, 0, 2, 0, 0, 3, 0, 0]);
  });

  it('names the pivot of a matrix that is not positive definite', () => {
    const singular = Float64Array.of(1, 1, 1, 1);
    expect(() => factor(singular, 2)).toThrow(NotPositiveDefinite);
    try {
      factor(singular, 2);
    } catch (error) {
      expect((error as NotPositiveDefinite).pivot).toBe(1);
    }
  });
});

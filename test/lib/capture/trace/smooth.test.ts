import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { smoothColumns } from '@/lib/capture/trace/smooth';
import { seededRandom } from '@/lib/numerics/seededRandom';

const evenly = (count: number, stepS: number) => Float64Array.from({ length: count }, (_, k) => k * stepS);
const reach = (count: number, h: number) => new Float64Array(count).fill(h);

function smoothed(timeS: Float64Array, values: Float64Array, h: number) {
  const [one] = smoothColumns(timeS, [values], reach(timeS.length, h));
  if (one === undefined) throw new Error('one column in, one out');
  return one;
}

/** Gauss's elimination with pivots; for a check, so as plain as it can be. */
function solve(matrix: number[][], right: number[]): number[] {
  const rows = matrix.map((row, i) => [...row, right[i] as number]);
  const n = rows.length;
  for (let column = 0; column < n; column++) {
    let pivot = column;
    for (let row = column + 1; row < n; row++) {
      if (Math.abs(rows[row]?.[column] ?? 0) > Math.abs(rows[pivot]?.[column] ?? 0)) pivot = row;
    }
    const swap = rows[column] as number[];
    rows[column] = rows[pivot] as number[];
    rows[pivot] = swap;
    const top = rows[column] as number[];
    for (let row = column + 1; row < n; row++) {
      const below = rows[row] as number[];
      const factor = (below[column] as number) / (top[column] as number);
      for (let k = column; k <= n; k++) below[k] = (below[k] as number) - factor * (top[k] as number);
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let row = n - 1; row >= 0; row--) {
    const from = rows[row] as number[];
    let rest = from[n] as number;
    for (let k = row + 1; k < n; k++) rest -= (from[k] as number) * (x[k] as number);
    x[row] = rest / (from[row] as number);
  }
  return x;
}

/**
 * The cubic smoothing spline that minimises Σ w(y − f)² + λ∫f″² at its knots, by its normal equations in second
 * derivatives: (R + λ Q'W⁻¹Q)γ = Q'y, f = y − λ W⁻¹Qγ (P. J. Green, B. W. Silverman, Nonparametric Regression and
 * Generalized Linear Models, 1994, 2.3).
 */
function smoothingSpline(t: Float64Array, y: Float64Array, weights: number[], lambda: number): number[] {
  const n = t.length;
  const h = Array.from({ length: n - 1 }, (_, k) => (t[k + 1] as number) - (t[k] as number));
  const q = Array.from({ length: n }, () => new Array<number>(n - 2).fill(0));
  for (let j = 0; j < n - 2; j++) {
    (q[j] as number[])[j] = 1 / (h[j] as number);
    (q[j + 1] as number[])[j] = -1 / (h[j] as number) - 1 / (h[j + 1] as number);
    (q[j + 2] as number[])[j] = 1 / (h[j + 1] as number);
  }
  const left = Array.from({ length: n - 2 }, (_, i) =>
    Array.from({ length: n - 2 }, (__, j) => {
      let sum = 0;
      for (let k = 0; k < n; k++) sum += ((q[k]?.[i] ?? 0) * (q[k]?.[j] ?? 0)) / (weights[k] as number);
      const r =
        i === j
          ? ((h[i] as number) + (h[i + 1] as number)) / 3
          : Math.abs(i - j) === 1
            ? (h[Math.max(i, j)] as number) / 6
            : 0;
      return r + lambda * sum;
    }),
  );
  const right = Array.from({ length: n - 2 }, (_, j) =>
    q.reduce((sum, row, k) => sum + (row[j] as number) * (y[k] as number), 0),
  );
  const gamma = solve(left, right);
  return Array.from(y, (value, k) => {
    const bend = gamma.reduce((sum, g, j) => sum + (q[k]?.[j] ?? 0) * g, 0);
    return value - (lambda * bend) / (weights[k] as number);
  });
}

describe('smoothColumns', () => {
  it('is the cubic smoothing spline, found by its normal equations, at uneven times', () => {
    const random = seededRandom(3);
    let now = 0;
    const timeS = Float64Array.from({ length: 60 }, () => {
      now += 0.1 + 3 * random.nextUniform() ** 3;
      return now;
    });
    const values = timeS.map((t) => 40 * Math.sin(t / 9) + 3 * random.nextNormal());
    const weights = Array.from(timeS, (t, k) => {
      const [before, after] = [timeS[k - 1], timeS[k + 1]];
      if (before === undefined) return (after as number) - t;
      return after === undefined ? t - before : (after - before) / 2;
    });
    for (const h of [1, 3]) {
      const expected = smoothingSpline(timeS, values, weights, h ** 4);
      const { value } = smoothed(timeS, values, h);
      for (const [k, each] of expected.entries())
        expect(Math.abs((value[k] as number) - each)).toBeLessThan(1e-5);
    }
  });

  it('leaves a straight line at steady speed as it is, whatever the times and the reach', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.05, max: 9, noNaN: true }), { minLength: 3, maxLength: 60 }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.double({ min: -1e-3, max: 1e-3, noNaN: true }),
        fc.double({ min: 0.5, max: 5, noNaN: true }),
        (steps, origin, rate, h) => {
          let now = 0;
          const timeS = Float64Array.from(steps, (step) => (now += step));
          const result = smoothed(
            timeS,
            timeS.map((t) => origin + rate * t),
            h,
          );
          for (const [k, t] of timeS.entries()) {
            // 1e-9 degrees are a tenth of a millimetre; doubles of 180 degrees and the steps between keep a tenth of that
            expect(Math.abs((result.value[k] as number) - origin - rate * t)).toBeLessThan(1e-9);
            // a start of finite width takes a share of the speed: at most 7e-5 of it was found, at steps a hundredth of the reach
            expect(Math.abs((result.rate[k] as number) - rate)).toBeLessThan(1e-9 + 1e-4 * Math.abs(rate));
          }
        },
      ),
    );
  });

  it('passes a wave less the share (ωh)⁴/(1 + (ωh)⁴), at one and at ten fixes a second', () => {
    for (const stepS of [1, 0.1]) {
      const timeS = evenly(Math.round(600 / stepS) + 1, stepS);
      for (const periodS of [20, 40, 80]) {
        const omega = (2 * Math.PI) / periodS;
        const { value, rate } = smoothed(
          timeS,
          timeS.map((t) => Math.sin(omega * t)),
          3,
        );
        const passed = 1 / (1 + (omega * 3) ** 4);
        const middle = Math.round(300 / stepS);
        for (let k = middle; k < middle + Math.round(periodS / stepS); k++) {
          expect((value[k] as number) - passed * Math.sin(omega * (timeS[k] as number))).toBeCloseTo(0, 2);
          expect((rate[k] as number) / omega - passed * Math.cos(omega * (timeS[k] as number))).toBeCloseTo(
            0,
            2,
          );
        }
      }
    }
  });
});

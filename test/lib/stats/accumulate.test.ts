import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COMPONENTS, pairIndex, type Variances } from '@/lib/stats/accumulate';
import { type Derivatives, evaluate } from '@/lib/stats/criterion';
import { prepare } from '@/lib/stats/problem';
import { layOutRuns } from '@/lib/stats/structure';
import { type DenseFit, denseFit, type Matrix, multiply, trace, transpose } from './dense';
import { arbitraryRuns, simulateRuns } from './runs';

const variances = fc.record({
  car: fc.double({ min: 0, max: 0.1, noNaN: true }),
  carLoop: fc.double({ min: 0, max: 0.1, noNaN: true }),
  session: fc.double({ min: 0, max: 0.1, noNaN: true }),
  residual: fc.double({ min: 0.001, max: 0.1, noNaN: true }),
});

function blockwise(runs: ReturnType<typeof simulateRuns>, v: Variances) {
  const problem = prepare(layOutRuns(runs), null, true);
  const square = problem.scale ** 2;
  const scaled = {
    car: v.car / square,
    carLoop: v.carLoop / square,
    session: v.session / square,
    residual: v.residual / square,
  };
  return { problem, at: evaluate(problem, scaled, true), square };
}

/** z'P A P z, tr(PA) and the like, written out in full. */
function denseDerivatives(d: DenseFit) {
  const z = d.z.map((x) => [x]);
  const Pz = multiply(d.P, z);
  const score = d.G.map(
    (G) => trace(multiply(d.P, G)) - (multiply(transpose(Pz), multiply(G, Pz))[0]?.[0] as number),
  );
  const PG = d.G.map((G) => multiply(d.P, G));
  const expected = PG.map((a) => PG.map((b) => trace(multiply(a, b)) / 2));
  const GPz = d.G.map((G) => multiply(G, Pz));
  const average = GPz.map((a) =>
    GPz.map((b) => (multiply(transpose(a), multiply(d.P, b))[0]?.[0] as number) / 2),
  );
  return { score, expected, average };
}

function expectClose(found: number, wanted: number, scale: number, tolerance = 1e-8): void {
  expect(Math.abs(found - wanted)).toBeLessThanOrEqual(tolerance * Math.max(scale, Math.abs(wanted)));
}

describe('the blockwise pass against N × N matrices', { timeout: 30_000 }, () => {
  it('gives the same deviance, effects and covariance for any layout', () => {
    fc.assert(
      fc.property(arbitraryRuns(true), variances, (runs, v) => {
        const dense = denseFit(runs, v);
        const { problem, at, square } = blockwise(runs, v);
        expectClose(at.deviance, dense.deviance, 10);
        const p = dense.setups.length;
        dense.beta.forEach((beta, k) => {
          expectClose(
            problem.base + (problem.offset[k] as number) + problem.scale * (at.coefficients[k] as number),
            beta,
            1,
            1e-9,
          );
          for (let j = 0; j < p; j++) {
            expectClose(
              square * (at.covariance[k * p + j] as number),
              dense.covariance[k]?.[j] as number,
              dense.covariance[k]?.[k] as number,
            );
          }
        });
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  it('gives the same score, expected and average information', () => {
    fc.assert(
      fc.property(arbitraryRuns(true), variances, (runs, v) => {
        const wanted = denseDerivatives(denseFit(runs, v));
        const { at, square } = blockwise(runs, v);
        const d = at.derivatives as Derivatives;
        for (let j = 0; j < 4; j++) {
          const unit = Math.sqrt(wanted.expected[j]?.[j] as number);
          expectClose((d.score[j] as number) / square, wanted.score[j] as number, unit);
          for (let k = 0; k < 4; k++) {
            const size = unit * Math.sqrt(wanted.expected[k]?.[k] as number);
            expectClose(
              (d.expected[j * 4 + k] as number) / square ** 2,
              wanted.expected[j]?.[k] as number,
              size,
            );
            expectClose(
              (d.average[j * 4 + k] as number) / square ** 2,
              wanted.average[j]?.[k] as number,
              size,
            );
          }
        }
      }),
      { numRuns: 40, seed: 12 },
    );
  });

  it("gives the same X'V⁻¹GV⁻¹X and X'V⁻¹GV⁻¹GV⁻¹X", () => {
    const runs = simulateRuns(
      {
        cars: 4,
        sessions: 4,
        loops: 2,
        sdCarLoop: 0.02,
        setups: 3,
        runs: 4,
        sdCar: 0.04,
        sdSession: 0.02,
        sdRun: 0.02,
        u: 0.01,
      },
      5,
    );
    const v = { car: 0.002, carLoop: 0.0009, session: 0.0006, residual: 0.0002 };
    const dense = denseFit(runs, v);
    const { at, square } = blockwise(runs, v);
    const d = at.derivatives as Derivatives;
    const left = multiply(transpose(dense.X), dense.Vinverse);
    const compare = (found: Float64Array, wanted: Matrix, factor: number) => {
      const p = wanted.length;
      const largest = Math.max(...wanted.flat().map(Math.abs));
      wanted.forEach((row, i) => {
        row.forEach((x, j) => {
          expectClose((found[i * p + j] as number) / factor, x, largest, 1e-10);
        });
      });
    };
    COMPONENTS.forEach((_, j) => {
      const outer = multiply(left, dense.G[j] as Matrix);
      compare(d.first[j] as Float64Array, multiply(outer, transpose(left)), square ** 2);
      COMPONENTS.forEach((__, k) => {
        const one = multiply(
          multiply(multiply(outer, dense.Vinverse), dense.G[k] as Matrix),
          transpose(left),
        );
        const symmetric = one.map((row, a) => row.map((x, b) => (x + (one[b]?.[a] as number)) / 2));
        compare(d.second[pairIndex(j, k)] as Float64Array, symmetric, square ** 3);
      });
    });
  });

  it('has the score as the slope of the deviance', () => {
    const runs = simulateRuns(
      {
        cars: 5,
        sessions: 4,
        loops: 2,
        sdCarLoop: 0.02,
        setups: 3,
        runs: 3,
        sdCar: 0.04,
        sdSession: 0.02,
        sdRun: 0.02,
        u: 0.01,
      },
      8,
    );
    const v = { car: 0.5, carLoop: 0.2, session: 0.3, residual: 0.4 };
    const problem = prepare(layOutRuns(runs), null, true);
    const d = evaluate(problem, v, true).derivatives as Derivatives;
    COMPONENTS.forEach((name, j) => {
      const step = 1e-3;
      const at = (shift: number) =>
        evaluate(problem, { ...v, [name]: v[name] + shift * step }, false).deviance;
      // Central difference of order 4.
      const slope = (8 * (at(1) - at(-1)) - (at(2) - at(-2))) / (12 * step);
      expectClose(d.score[j] as number, slope, 1, 1e-7);
    });
  });

  it('has the observed information as half the numerical Hessian of the deviance', () => {
    const runs = simulateRuns(
      {
        cars: 6,
        sessions: 4,
        loops: 2,
        sdCarLoop: 0.02,
        setups: 3,
        runs: 3,
        sdCar: 0.04,
        sdSession: 0.02,
        sdRun: 0.02,
        u: 0.01,
      },
      9,
    );
    const v = { car: 0.5, carLoop: 0.2, session: 0.3, residual: 0.4 };
    const problem = prepare(layOutRuns(runs), null, true);
    const d = evaluate(problem, v, true).derivatives as Derivatives;
    COMPONENTS.forEach((name, j) => {
      // Order-4 difference of the analytic score, step 2e-3 of the variance as method B3 has it.
      const step = 2e-3 * v[name];
      const score = (shift: number) =>
        (evaluate(problem, { ...v, [name]: v[name] + shift * step }, true).derivatives as Derivatives).score;
      const [a, b, c, e] = [score(1), score(-1), score(2), score(-2)];
      for (let k = 0; k < 4; k++) {
        const second =
          (8 * ((a[k] as number) - (b[k] as number)) - ((c[k] as number) - (e[k] as number))) / (12 * step);
        const observed = 2 * (d.average[j * 4 + k] as number) - (d.expected[j * 4 + k] as number);
        expectClose(2 * observed, second, 1, 1e-7);
      }
    });
  });
});

import type { Variances } from '@/lib/stats/accumulate';
import type { Observation } from '@/lib/stats/structure';

/**
 * The mixed model written out in full with N × N matrices, as in a textbook; slow and independent of the
 * blockwise code it checks.
 */
export type Matrix = number[][];

export function multiply(a: Matrix, b: Matrix): Matrix {
  return a.map((row) =>
    (b[0] as number[]).map((_, j) =>
      row.reduce((sum, x, k) => sum + x * ((b[k] as number[])[j] as number), 0),
    ),
  );
}

export function transpose(a: Matrix): Matrix {
  return (a[0] as number[]).map((_, j) => a.map((row) => row[j] as number));
}

/** Inverse and ln|det| by Gauss–Jordan elimination with row exchanges. */
export function invert(a: Matrix): { inverse: Matrix; logDet: number } {
  const n = a.length;
  const work = a.map((row, i) => [...row, ...Array.from({ length: n }, (_, j) => (i === j ? 1 : 0))]);
  let logDet = 0;
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k; i < n; i++) {
      if (Math.abs(work[i]?.[k] as number) > Math.abs(work[best]?.[k] as number)) best = i;
    }
    const held = work[k] as number[];
    work[k] = work[best] as number[];
    work[best] = held;
    const pivot = work[k]?.[k] as number;
    logDet += Math.log(Math.abs(pivot));
    work[k] = (work[k] as number[]).map((x) => x / pivot);
    for (let i = 0; i < n; i++) {
      if (i === k) continue;
      const factor = work[i]?.[k] as number;
      if (factor !== 0) {
        work[i] = (work[i] as number[]).map((x, j) => x - factor * (work[k]?.[j] as number));
      }
    }
  }
  return { inverse: work.map((row) => row.slice(n)), logDet };
}

export function trace(a: Matrix): number {
  return a.reduce((sum, row, i) => sum + (row[i] as number), 0);
}

export interface DenseFit {
  setups: string[];
  deviance: number;
  beta: number[];
  covariance: Matrix;
  V: Matrix;
  Vinverse: Matrix;
  P: Matrix;
  X: Matrix;
  /** Indicator products Z Z' of car, car on a loop, session and the identity. */
  G: Matrix[];
  z: number[];
}

/** REML at given variances: −2 ln L_R = ln|V| + ln|X'V⁻¹X| + z'Pz + (N − p) ln 2π. */
export function denseFit(runs: readonly Observation[], v: Variances): DenseFit {
  const setups = [...new Set(runs.map((r) => r.setup))].sort();
  const same = (key: (r: Observation) => string) =>
    runs.map((a) => runs.map((b) => (key(a) === key(b) ? 1 : 0)));
  const G = [
    same((r) => r.car),
    same((r) => `${r.car}|${r.loop ?? ''}`),
    same((r) => `${r.car}|${r.loop ?? ''}|${r.session}`),
    runs.map((_, i) => runs.map((__, j) => (i === j ? 1 : 0))),
  ];
  const V = runs.map((run, i) =>
    runs.map(
      (_, j) =>
        v.car * (G[0]?.[i]?.[j] as number) +
        v.carLoop * (G[1]?.[i]?.[j] as number) +
        v.session * (G[2]?.[i]?.[j] as number) +
        (i === j ? v.residual + run.u * run.u : 0),
    ),
  );
  const X = runs.map((run) => setups.map((s) => (s === run.setup ? 1 : 0)));
  const { inverse: Vinverse, logDet } = invert(V);
  const XtVi = multiply(transpose(X), Vinverse);
  const { inverse: covariance, logDet: logDetM } = invert(multiply(XtVi, X));
  const z = runs.map((r) => r.z);
  const beta = multiply(
    multiply(covariance, XtVi),
    z.map((x) => [x]),
  ).map((row) => row[0] as number);
  const hat = multiply(multiply(transpose(XtVi), covariance), XtVi);
  const P = Vinverse.map((row, i) => row.map((x, j) => x - (hat[i]?.[j] as number)));
  const quadratic = z.reduce(
    (sum, zi, i) => sum + zi * z.reduce((inner, zj, j) => inner + (P[i]?.[j] as number) * zj, 0),
    0,
  );
  return {
    setups,
    deviance: logDet + logDetM + quadratic + (runs.length - setups.length) * Math.log(2 * Math.PI),
    beta,
    covariance,
    V,
    Vinverse,
    P,
    X,
    G,
    z,
  };
}

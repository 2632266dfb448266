import type { Variances } from './accumulate';
import type { Evaluation } from './criterion';
import type { Problem } from './problem';

/**
 * The pieces of V⁻¹ that single runs, cars and sessions need at fitted variances; scaled units throughout.
 * Same symbols as accumulate.ts: f = 1 + v_S a, g = v_S/f, α = a/f, F = 1 + v_T A, h = v_T/F, C = Σ c/f.
 */
export interface SessionSummary {
  index: number;
  f: number;
  g: number;
  alpha: number;
  /** Σ w e of the session, e = z − Xβ. */
  r: number;
  /** Σ w by setup, sparse: global setup index → sum. */
  c: Map<number, number>;
}

export interface CarSummary {
  index: number;
  F: number;
  h: number;
  A: number;
  /** Σ r/f over the car's sessions. */
  R: number;
  C: Map<number, number>;
  sessions: SessionSummary[];
}

/** Residual of a cell's mean from its setup's fitted effect. */
export function cellResidual(problem: Problem, at: Evaluation, cell: number): number {
  const setup = problem.structure.cellSetup[cell] as number;
  let fitted = 0;
  if (problem.design === null) fitted = at.coefficients[setup] as number;
  else {
    for (let i = 0; i < problem.p; i++) {
      fitted += (problem.design[setup * problem.p + i] as number) * (at.coefficients[i] as number);
    }
  }
  return (problem.z[cell] as number) - fitted;
}

/** Summaries of every car of a problem at an evaluation. */
export function summariseCars(problem: Problem, at: Evaluation): CarSummary[] {
  const { structure: s } = problem;
  const v: Variances = at.variances;
  return Array.from({ length: s.cars }, (_, t) => {
    const sessions: SessionSummary[] = [];
    const C = new Map<number, number>();
    let A = 0;
    let R = 0;
    for (let ses = s.sessionOfCar[t] as number; ses < (s.sessionOfCar[t + 1] as number); ses++) {
      const c = new Map<number, number>();
      let a = 0;
      let r = 0;
      for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
        const weight = (s.count[i] as number) / (v.residual + (problem.knownVariance[i] as number));
        const setup = s.cellSetup[i] as number;
        a += weight;
        r += weight * cellResidual(problem, at, i);
        c.set(setup, (c.get(setup) ?? 0) + weight);
      }
      const f = 1 + v.session * a;
      for (const [setup, weight] of c) C.set(setup, (C.get(setup) ?? 0) + weight / f);
      A += a / f;
      R += r / f;
      sessions.push({ index: ses, f, g: v.session / f, alpha: a / f, r, c });
    }
    const F = 1 + v.car * A;
    return { index: t, F, h: v.car / F, A, R, C, sessions };
  });
}

/** x' M⁻¹ x for a sparse vector over the setups (no design) or its projection on the design. */
export function sparseQuadratic(problem: Problem, at: Evaluation, x: ReadonlyMap<number, number>): number {
  const { p, design } = problem;
  let entries: [number, number][];
  if (design === null) entries = [...x];
  else {
    const dense = new Float64Array(p);
    for (const [setup, value] of x) {
      for (let i = 0; i < p; i++) dense[i] = (dense[i] as number) + value * (design[setup * p + i] as number);
    }
    entries = Array.from(dense, (value, i) => [i, value]);
  }
  let sum = 0;
  for (const [i, a] of entries)
    for (const [j, b] of entries) sum += a * b * (at.covariance[i * p + j] as number);
  return sum;
}

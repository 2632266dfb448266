import type { Variances } from './accumulate';
import type { Evaluation } from './criterion';
import type { Problem } from './problem';

/**
 * Predictions of the nested effects at given components, by one pass up and one down (method B6): with w = 1/(v + u²),
 *   up    a = Σw, r = Σwe, f = 1 + v_S a;  A = Σa/f, R = Σr/f, F = 1 + v_C A;  A₂ = ΣA/F, R₂ = ΣR/F, F₂ = 1 + v_T A₂
 *   down  T = v_T R₂/F₂,  C = v_C (R − A T)/F,  S = v_S (r − a(T + C))/f,  and (V⁻¹e)_i = w_i (e_i − T − C − S).
 * These are the best linear unbiased predictions for residuals e. Henderson C. R. (1975), Biometrics 31, 423.
 * Scaled units throughout.
 */
export interface Tree {
  problem: Problem;
  v: Variances;
  /** Σw of a session, and 1 + v_S a. */
  a: Float64Array;
  f: Float64Array;
  /** Of a car on a loop: Σ a/f, and 1 + v_C A. */
  A: Float64Array;
  F: Float64Array;
  /** Of a car: Σ A/F, and 1 + v_T A₂. */
  A2: Float64Array;
  F2: Float64Array;
  carOfLoop: Int32Array;
  loopOfSession: Int32Array;
  /** Of a car on a loop, once asked for: Σ over its sessions of w/f, by setup. */
  setupsOfLoop: Map<number, ReadonlyMap<number, number>>;
}

/** Weight of a single run of a cell. */
export function runWeight({ problem, v }: Pick<Tree, 'problem' | 'v'>, cell: number): number {
  return 1 / (v.residual + (problem.knownVariance[cell] as number));
}

/** The part of the passes that does not depend on the residuals. */
export function weighTree(problem: Problem, v: Variances): Tree {
  const s = problem.structure;
  const tree: Tree = {
    problem,
    v,
    a: new Float64Array(s.sessions),
    f: new Float64Array(s.sessions),
    A: new Float64Array(s.loops),
    F: new Float64Array(s.loops),
    A2: new Float64Array(s.cars),
    F2: new Float64Array(s.cars),
    carOfLoop: parents(s.loopOfCar, s.loops),
    loopOfSession: parents(s.sessionOfLoop, s.sessions),
    setupsOfLoop: new Map(),
  };
  for (let ses = 0; ses < s.sessions; ses++) {
    let a = 0;
    for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
      a += (s.count[i] as number) * runWeight(tree, i);
    }
    const f = 1 + v.session * a;
    tree.a[ses] = a;
    tree.f[ses] = f;
    const loop = tree.loopOfSession[ses] as number;
    tree.A[loop] = (tree.A[loop] as number) + a / f;
  }
  for (let l = 0; l < s.loops; l++) {
    const F = 1 + v.carLoop * (tree.A[l] as number);
    tree.F[l] = F;
    const car = tree.carOfLoop[l] as number;
    tree.A2[car] = (tree.A2[car] as number) + (tree.A[l] as number) / F;
  }
  for (let t = 0; t < s.cars; t++) tree.F2[t] = 1 + v.car * (tree.A2[t] as number);
  return tree;
}

function parents(starts: Int32Array, count: number): Int32Array {
  const of = new Int32Array(count);
  for (let parent = 0; parent + 1 < starts.length; parent++) {
    of.fill(parent, starts[parent] as number, starts[parent + 1] as number);
  }
  return of;
}

export interface NestedEffects {
  car: Float64Array;
  loop: Float64Array;
  session: Float64Array;
}

/** Predicted effects for residuals given as one mean a cell. */
export function predictEffects(tree: Tree, e: Float64Array): NestedEffects {
  const { problem, v } = tree;
  const s = problem.structure;
  const r = new Float64Array(s.sessions);
  const R = new Float64Array(s.loops);
  const R2 = new Float64Array(s.cars);
  for (let ses = 0; ses < s.sessions; ses++) {
    let sum = 0;
    for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
      sum += (s.count[i] as number) * runWeight(tree, i) * (e[i] as number);
    }
    r[ses] = sum;
    const loop = tree.loopOfSession[ses] as number;
    R[loop] = (R[loop] as number) + sum / (tree.f[ses] as number);
  }
  for (let l = 0; l < s.loops; l++) {
    const car = tree.carOfLoop[l] as number;
    R2[car] = (R2[car] as number) + (R[l] as number) / (tree.F[l] as number);
  }
  const car = Float64Array.from(R2, (sum, t) => (v.car * sum) / (tree.F2[t] as number));
  const loop = Float64Array.from(
    R,
    (sum, l) =>
      (v.carLoop * (sum - (tree.A[l] as number) * (car[tree.carOfLoop[l] as number] as number))) /
      (tree.F[l] as number),
  );
  const session = Float64Array.from(r, (sum, ses) => {
    const l = tree.loopOfSession[ses] as number;
    const above = (loop[l] as number) + (car[tree.carOfLoop[l] as number] as number);
    return (v.session * (sum - (tree.a[ses] as number) * above)) / (tree.f[ses] as number);
  });
  return { car, loop, session };
}

/** Σ over each cell's runs of (V⁻¹e)_i, for e given as one mean a cell. */
export function solveCells(tree: Tree, e: Float64Array): Float64Array {
  const s = tree.problem.structure;
  const effects = predictEffects(tree, e);
  const solved = new Float64Array(s.cells);
  for (let ses = 0; ses < s.sessions; ses++) {
    const l = tree.loopOfSession[ses] as number;
    const above =
      (effects.session[ses] as number) +
      (effects.loop[l] as number) +
      (effects.car[tree.carOfLoop[l] as number] as number);
    for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
      solved[i] = (s.count[i] as number) * runWeight(tree, i) * ((e[i] as number) - above);
    }
  }
  return solved;
}

/** M⁻¹X'V⁻¹e of the free coefficients, for e given as one mean a cell. */
export function regress(tree: Tree, at: Evaluation, e: Float64Array): Float64Array {
  const { p, design, structure: s } = tree.problem;
  const solved = solveCells(tree, e);
  const right = new Float64Array(p);
  for (let i = 0; i < s.cells; i++) {
    const k = s.cellSetup[i] as number;
    if (design === null) right[k] = (right[k] as number) + (solved[i] as number);
    else {
      for (let j = 0; j < p; j++) {
        right[j] = (right[j] as number) + (design[k * p + j] as number) * (solved[i] as number);
      }
    }
  }
  const found = new Float64Array(p);
  for (let i = 0; i < p; i++) {
    let sum = 0;
    for (let j = 0; j < p; j++) sum += (at.covariance[i * p + j] as number) * (right[j] as number);
    found[i] = sum;
  }
  return found;
}

/** Residual of each cell's mean from its setup's fitted effect. */
export function cellResiduals(problem: Problem, at: Evaluation): Float64Array {
  const { design, p } = problem;
  return Float64Array.from(problem.z, (value, cell) => {
    const setup = problem.structure.cellSetup[cell] as number;
    if (design === null) return value - (at.coefficients[setup] as number);
    let fitted = 0;
    for (let i = 0; i < p; i++) {
      fitted += (design[setup * p + i] as number) * (at.coefficients[i] as number);
    }
    return value - fitted;
  });
}

/** The way from a car to one of its loops and sessions, as far as it goes. */
export interface Path {
  car: number;
  loop: number | null;
  session: number | null;
}

/** What is known of the sum of the effects along a path: its prediction is linear in the residuals. */
export interface PathKnowledge {
  /** Variance of the sum given the data and known setup effects. */
  variance: number;
  /** The prediction for residuals X: global setup index → share. */
  toward: Map<number, number>;
  /** The prediction where every run of the car has residual 1. */
  kept: number;
}

/**
 * T alone, T + C or T + C + S. The sum is coefCar R₂ + coefLoop R + coefSession r with coefficients that shrink by 1/F
 * and 1/f on the way down, and its variance v_T/F₂, then ·/F² + v_C/F, then ·/f² + v_S/f (Kalman filtering on a tree).
 */
export function knowPath(tree: Tree, { car, loop, session }: Path): PathKnowledge {
  const { v } = tree;
  const toward = new Map<number, number>();
  let variance = v.car / (tree.F2[car] as number);
  let ofCar = v.car / (tree.F2[car] as number);
  let ofLoop = 0;
  let kept = 0;
  if (loop !== null) {
    const F = tree.F[loop] as number;
    variance = variance / (F * F) + v.carLoop / F;
    ofCar /= F;
    ofLoop = v.carLoop / F;
    if (session !== null) {
      const f = tree.f[session] as number;
      variance = variance / (f * f) + v.session / f;
      ofCar /= f;
      ofLoop /= f;
      addSession(tree, session, v.session / f, toward);
      kept += (v.session / f) * (tree.a[session] as number);
    }
    if (ofLoop > 0) addLoop(tree, loop, ofLoop, toward);
    kept += ofLoop * (tree.A[loop] as number);
  }
  const { loopOfCar } = tree.problem.structure;
  for (let l = loopOfCar[car] as number; l < (loopOfCar[car + 1] as number); l++) {
    if (ofCar > 0) addLoop(tree, l, ofCar / (tree.F[l] as number), toward);
  }
  kept += ofCar * (tree.A2[car] as number);
  return { variance, toward, kept };
}

function addLoop(tree: Tree, loop: number, share: number, toward: Map<number, number>): void {
  for (const [k, sum] of setupsOfLoop(tree, loop)) toward.set(k, (toward.get(k) ?? 0) + share * sum);
}

/** Summed once a loop: asked again for each of its sessions, the sums would take the square of their number. */
function setupsOfLoop(tree: Tree, loop: number): ReadonlyMap<number, number> {
  const known = tree.setupsOfLoop.get(loop);
  if (known !== undefined) return known;
  const { sessionOfLoop } = tree.problem.structure;
  const sums = new Map<number, number>();
  for (let ses = sessionOfLoop[loop] as number; ses < (sessionOfLoop[loop + 1] as number); ses++) {
    addSession(tree, ses, 1 / (tree.f[ses] as number), sums);
  }
  tree.setupsOfLoop.set(loop, sums);
  return sums;
}

function addSession(tree: Tree, session: number, share: number, toward: Map<number, number>): void {
  const s = tree.problem.structure;
  for (let i = s.cellOfSession[session] as number; i < (s.cellOfSession[session + 1] as number); i++) {
    const k = s.cellSetup[i] as number;
    toward.set(k, (toward.get(k) ?? 0) + share * (s.count[i] as number) * runWeight(tree, i));
  }
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

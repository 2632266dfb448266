import { multiply } from '@/lib/numerics/cholesky';
import type { Evaluation } from './criterion';
import { runWeight, type Tree, weighTree } from './nestedEffects';
import type { Problem } from './problem';
import type { SessionSpread } from './sessionSpread';

/**
 * What the estimates' covariance lacks where inputs do unequal things to the runs of a session (method B6). The fit takes
 * these as w on the diagonal of V; truly they are Δ = Σ_q δ_qδ_q' in place of diag w. The estimates Lz with L = M⁻¹X'V⁻¹
 * are linear in z, so that their covariance is L(V + Δ − diag w)L' whatever the weights in L (law of propagation, JCGM
 * 100:2008, 5.2.2). What this adds to LVL' = M⁻¹ is
 *   M⁻¹ (Σ_q (Y'δ_q)(Y'δ_q)' − Σ_i w_i Y_iY_i') M⁻¹,  Y = V⁻¹X.
 * V is block diagonal over cars, so Y_i reaches over the setups of its car only: O(N p_t²) for p_t of these.
 *
 * Added to the covariance at these weights it is never negative, as V + Δ − diag w is none; the correction for few cars
 * only adds (kenwardRoger.ts: a weighted sum of B_j'PB_k with positive semidefinite weights and P).
 *
 * @param spread of the runs in the order that the structure was laid out from
 * @returns m × m flat in the order of the setups, original units
 */
export function spreadCovariance(problem: Problem, at: Evaluation, spread: SessionSpread): Float64Array {
  const s = problem.structure;
  const m = s.setups.length;
  const rows = new SolvedRows(weighTree(problem, at.variances));
  const middle = new Float64Array(m * m);
  const sum = new SparseVector(m);
  for (let q = 0; q + 1 < spread.starts.length; q++) {
    for (let i = spread.starts[q] as number; i < (spread.starts[q + 1] as number); i++) {
      const cell = s.cellOfItem[spread.runOf[i] as number] as number;
      rows.addTo(sum, cell, spread.deviation[i] as number);
    }
    sum.addSquareTo(middle, 1);
    sum.clear();
  }
  const ofCell = new Float64Array(s.cells);
  spread.variance.forEach((w, run) => {
    const cell = s.cellOfItem[run] as number;
    ofCell[cell] = (ofCell[cell] as number) + w;
  });
  for (let cell = 0; cell < s.cells; cell++) {
    const w = ofCell[cell] as number;
    if (w === 0) continue;
    rows.addTo(sum, cell, 1);
    sum.addSquareTo(middle, -w);
    sum.clear();
  }
  return multiply(multiply(at.covariance, middle, m), at.covariance, m);
}

/** Rows of V⁻¹X, one a cell: all runs of a cell have the same. Made by car, once it is asked for. */
class SolvedRows {
  private readonly ofCar = new Map<number, Float64Array>();
  private readonly carOfCell: Int32Array;

  constructor(private readonly tree: Tree) {
    const { cars, cells } = tree.problem.structure;
    this.carOfCell = new Int32Array(cells);
    for (let car = 0; car < cars; car++)
      this.carOfCell.fill(car, firstCell(tree, car), firstCell(tree, car + 1));
  }

  addTo(sum: SparseVector, cell: number, share: number): void {
    const { tree } = this;
    const s = tree.problem.structure;
    const car = this.carOfCell[cell] as number;
    const from = s.supportOfCar[car] as number;
    const q = (s.supportOfCar[car + 1] as number) - from;
    const rows = this.ofCar.get(car) ?? solveCar(tree, car);
    this.ofCar.set(car, rows);
    const row = (cell - firstCell(tree, car)) * q;
    for (let k = 0; k < q; k++) sum.add(s.support[from + k] as number, share * (rows[row + k] as number));
  }
}

function firstCell({ problem: { structure: s } }: Tree, car: number): number {
  return s.cellOfSession[s.sessionOfLoop[s.loopOfCar[car] as number] as number] as number;
}

/** V⁻¹X of one car's cells over its own setups: the passes of nestedEffects.ts for each column of X. */
function solveCar(tree: Tree, car: number): Float64Array {
  const { problem, v } = tree;
  const s = problem.structure;
  const q = (s.supportOfCar[car + 1] as number) - (s.supportOfCar[car] as number);
  const [first, last] = [firstCell(tree, car), firstCell(tree, car + 1)];
  const [firstLoop, lastLoop] = [s.loopOfCar[car] as number, s.loopOfCar[car + 1] as number];
  const firstSession = s.sessionOfLoop[firstLoop] as number;
  const sessions = (s.sessionOfLoop[lastLoop] as number) - firstSession;
  // Σ over a session's runs of w·X, by setup; then the same of its loop and of the car
  const r = new Float64Array(sessions * q);
  const R = new Float64Array((lastLoop - firstLoop) * q);
  const R2 = new Float64Array(q);
  for (let l = firstLoop; l < lastLoop; l++) {
    for (let ses = s.sessionOfLoop[l] as number; ses < (s.sessionOfLoop[l + 1] as number); ses++) {
      for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
        const place = (ses - firstSession) * q + (s.cellLocal[i] as number);
        r[place] = (r[place] as number) + (s.count[i] as number) * runWeight(tree, i);
      }
      for (let k = 0; k < q; k++) {
        const place = (l - firstLoop) * q + k;
        R[place] =
          (R[place] as number) + (r[(ses - firstSession) * q + k] as number) / (tree.f[ses] as number);
      }
    }
    for (let k = 0; k < q; k++)
      R2[k] = (R2[k] as number) + (R[(l - firstLoop) * q + k] as number) / (tree.F[l] as number);
  }
  const rows = new Float64Array((last - first) * q);
  for (let l = firstLoop; l < lastLoop; l++) {
    for (let ses = s.sessionOfLoop[l] as number; ses < (s.sessionOfLoop[l + 1] as number); ses++) {
      for (let k = 0; k < q; k++) {
        const T = (v.car * (R2[k] as number)) / (tree.F2[car] as number);
        const ofLoop = (R[(l - firstLoop) * q + k] as number) - (tree.A[l] as number) * T;
        const above = T + (v.carLoop * ofLoop) / (tree.F[l] as number);
        const ofSession = (r[(ses - firstSession) * q + k] as number) - (tree.a[ses] as number) * above;
        const predicted = above + (v.session * ofSession) / (tree.f[ses] as number);
        for (let i = s.cellOfSession[ses] as number; i < (s.cellOfSession[ses + 1] as number); i++) {
          const own = (s.cellLocal[i] as number) === k ? 1 : 0;
          rows[(i - first) * q + k] = runWeight(tree, i) * (own - predicted);
        }
      }
    }
  }
  return rows;
}

/** A vector of which few entries are not 0. */
class SparseVector {
  private readonly values: Float64Array;
  private readonly touched: number[] = [];
  private readonly isTouched: Uint8Array;

  constructor(m: number) {
    this.values = new Float64Array(m);
    this.isTouched = new Uint8Array(m);
  }

  add(at: number, value: number): void {
    if (this.isTouched[at] === 0) {
      this.isTouched[at] = 1;
      this.touched.push(at);
    }
    this.values[at] = (this.values[at] as number) + value;
  }

  /** target += share · x x' */
  addSquareTo(target: Float64Array, share: number): void {
    const m = this.values.length;
    for (const i of this.touched) {
      const x = share * (this.values[i] as number);
      for (const j of this.touched)
        target[i * m + j] = (target[i * m + j] as number) + x * (this.values[j] as number);
    }
  }

  clear(): void {
    for (const i of this.touched) {
      this.values[i] = 0;
      this.isTouched[i] = 0;
    }
    this.touched.length = 0;
  }
}

import {
  addCarProducts,
  addSessionProducts,
  type CarSums,
  flush,
  PRODUCTS,
  type Products,
} from './carProducts';
import type { Structure } from './structure';

/**
 * One pass over the cells for given variance components: every cross product the REML criterion, its
 * derivatives and the small-sample corrections need, in O(cells + Σ p_s² + Σ p_t²).
 *
 * Model: V = D_u + v_e I + v_S Z_S Z_S' + v_T Z_T Z_T', sessions nested in cars. With w = 1/(v_e + u²), per
 * session a = Σw, g = v_S/(1 + v_S a); per car A = Σ a/f, h = v_T/(1 + v_T A), the inverse is
 *   B = W − g w w' within a session,   V⁻¹ = B − h κ κ' within a car, κ = w/f,
 * by the Sherman–Morrison identity applied twice. The response is carried as one more column behind the
 * setups, so each matrix below is (m + 1) × (m + 1) with its last row belonging to z.
 * Derivation: Harville D. A. (1977), JASA 72, 320–338; Kenward M. G., Roger J. H. (1997), Biometrics 53, 983.
 */
export interface Variances {
  car: number;
  session: number;
  residual: number;
}

/** The three components in the order used by every score vector and information matrix. */
export const COMPONENTS = ['car', 'session', 'residual'] as const;
export type Component = (typeof COMPONENTS)[number];

export interface CrossProducts {
  /** m + 1; the last column is the response. */
  size: number;
  logDetV: number;
  /** [X z]' V⁻¹ [X z]. */
  cross: Float64Array;
  derivatives: DerivativeProducts | null;
}

export interface DerivativeProducts {
  /** [X z]' V⁻¹ G_j V⁻¹ [X z] for car, session, residual. */
  first: Float64Array[];
  /** Symmetrised [X z]' V⁻¹ G_j V⁻¹ G_k V⁻¹ [X z] in the order TT, TS, SS, Te, Se, ee. */
  second: Float64Array[];
  /** tr(V⁻¹ G_j). */
  traceFirst: Float64Array;
  /** tr(V⁻¹ G_j V⁻¹ G_k), 3 × 3. */
  traceSecond: Float64Array;
}

/** Where the pair of components (j, k) sits in `second`. */
export function pairIndex(j: number, k: number): number {
  const high = Math.max(j, k);
  return (high * (high + 1)) / 2 + Math.min(j, k);
}

/** `z` holds one value a cell: the cell mean less whatever centre the caller chose, in the caller's scale. */
export function accumulate(
  s: Structure,
  z: Float64Array,
  squares: Float64Array,
  knownVariance: Float64Array,
  v: Variances,
  withDerivatives: boolean,
): CrossProducts {
  const size = s.setups.length + 1;
  const products: Products = Array.from({ length: PRODUCTS }, (_, i) =>
    i === 0 || withDerivatives ? new Float64Array(size * size) : new Float64Array(0),
  );
  const stride = PRODUCTS;
  const traceFirst = new Float64Array(3);
  const traceSecond = new Float64Array(9);
  const logs = new LogSum();
  let widest = 0;
  for (let t = 0; t < s.cars; t++) {
    widest = Math.max(widest, (s.supportOfCar[t + 1] as number) - (s.supportOfCar[t] as number));
  }
  const sums = emptyCarSums(widest + 1);
  const { c1, c2, c3, block } = sums;
  const touched = new Int32Array(widest + 1);
  const isTouched = new Uint8Array(widest + 1);
  const globalOf = new Int32Array(widest + 1);

  for (let t = 0; t < s.cars; t++) {
    const supportStart = s.supportOfCar[t] as number;
    const p = (s.supportOfCar[t + 1] as number) - supportStart;
    for (let k = 0; k < p; k++) globalOf[k] = s.support[supportStart + k] as number;
    globalOf[p] = size - 1;
    clearCarSums(sums, p);
    const rowZ = (p * (p + 1)) / 2;
    const sessionEnd = s.sessionOfCar[t + 1] as number;
    for (let ses = s.sessionOfCar[t] as number; ses < sessionEnd; ses++) {
      let a1 = 0;
      let a2 = 0;
      let a3 = 0;
      let touchedCount = 0;
      c1[p] = 0;
      c2[p] = 0;
      c3[p] = 0;
      const cellEnd = s.cellOfSession[ses + 1] as number;
      for (let i = s.cellOfSession[ses] as number; i < cellEnd; i++) {
        const k = s.cellLocal[i] as number;
        const n = s.count[i] as number;
        const mean = z[i] as number;
        const w = 1 / (v.residual + (knownVariance[i] as number));
        if (isTouched[k] === 0) {
          isTouched[k] = 1;
          touched[touchedCount++] = k;
          c1[k] = 0;
          c2[k] = 0;
          c3[k] = 0;
        }
        logs.subtract(w, n);
        const nw = n * w;
        const energy = w * (n * mean * mean + (squares[i] as number));
        a1 += nw;
        c1[k] = (c1[k] as number) + nw;
        c1[p] = (c1[p] as number) + nw * mean;
        // Diagonal, response against setup, response against response; product 0 is V⁻¹ itself.
        const diagonal = ((k * (k + 1)) / 2 + k) * stride;
        const side = (rowZ + k) * stride;
        const corner = (rowZ + p) * stride;
        block[diagonal] = (block[diagonal] as number) + nw;
        block[side] = (block[side] as number) + nw * mean;
        block[corner] = (block[corner] as number) + energy;
        if (withDerivatives) {
          const nw2 = nw * w;
          const nw3 = nw2 * w;
          a2 += nw2;
          a3 += nw3;
          c2[k] = (c2[k] as number) + nw2;
          c2[p] = (c2[p] as number) + nw2 * mean;
          c3[k] = (c3[k] as number) + nw3;
          c3[p] = (c3[p] as number) + nw3 * mean;
          block[diagonal + 3] = (block[diagonal + 3] as number) + nw2;
          block[side + 3] = (block[side + 3] as number) + nw2 * mean;
          block[corner + 3] = (block[corner + 3] as number) + w * energy;
          block[diagonal + 9] = (block[diagonal + 9] as number) + nw3;
          block[side + 9] = (block[side + 9] as number) + nw3 * mean;
          block[corner + 9] = (block[corner + 9] as number) + w * w * energy;
        }
      }
      for (let q = 0; q < touchedCount; q++) isTouched[touched[q] as number] = 0;
      touched[touchedCount++] = p;
      const f = 1 + v.session * a1;
      const g = v.session / f;
      logs.add(f);
      addSessionProducts(sums, touched, touchedCount, { a1, a2, a3, f, g }, withDerivatives);
      if (withDerivatives) {
        traceFirst[2] = (traceFirst[2] as number) + a1 - g * a2;
        traceSecond[8] = (traceSecond[8] as number) + a2 - 2 * g * a3 + g * g * a2 * a2;
      }
    }
    const F = 1 + v.car * sums.A;
    const h = v.car / F;
    logs.add(F);
    addCarProducts(sums, p, F, h, withDerivatives);
    if (withDerivatives) addCarTraces(sums, F, h, traceFirst, traceSecond);
    flush(block, p, globalOf, products, size, withDerivatives);
  }
  const [cross, pT, pS, pE, ...second] = products as [Float64Array, Float64Array, Float64Array, Float64Array];
  if (!withDerivatives) return { size, logDetV: logs.value(), cross, derivatives: null };
  traceSecond[3] = traceSecond[1] as number;
  traceSecond[6] = traceSecond[2] as number;
  traceSecond[7] = traceSecond[5] as number;
  return {
    size,
    logDetV: logs.value(),
    cross,
    derivatives: { first: [pT, pS, pE], second, traceFirst, traceSecond },
  };
}

/** Sums logarithms by multiplying first: one logarithm for many factors, taken before the product overflows. */
class LogSum {
  private product = 1;
  private sum = 0;

  add(factor: number): void {
    this.product *= factor;
    if (!(this.product > 1e-200 && this.product < 1e200)) this.settle();
  }

  /** Subtracts n ln w. */
  subtract(w: number, n: number): void {
    if (n === 1 && w > 1e-80 && w < 1e80) this.add(1 / w);
    else this.sum -= n * Math.log(w);
  }

  private settle(): void {
    this.sum += Math.log(this.product);
    this.product = 1;
  }

  value(): number {
    return this.sum + Math.log(this.product);
  }
}

function emptyCarSums(length: number): CarSums {
  const vector = () => new Float64Array(length);
  return {
    c1: vector(),
    c2: vector(),
    c3: vector(),
    C: vector(),
    C2: vector(),
    C3: vector(),
    Y: vector(),
    Y2: vector(),
    Yb: vector(),
    Yq: vector(),
    block: new Float64Array(((length * (length + 1)) / 2) * PRODUCTS),
    A: 0,
    alpha2: 0,
    alpha3: 0,
    alphaBeta: 0,
    K2: 0,
    K3: 0,
  };
}

function clearCarSums(sums: CarSums, p: number): void {
  // Loops, not fill(): a car has a handful of setups, and the calls would cost more than the zeros.
  for (let k = 0; k <= p; k++) {
    sums.C[k] = 0;
    sums.C2[k] = 0;
    sums.C3[k] = 0;
    sums.Y[k] = 0;
    sums.Y2[k] = 0;
    sums.Yb[k] = 0;
    sums.Yq[k] = 0;
  }
  const length = (((p + 1) * (p + 2)) / 2) * PRODUCTS;
  for (let k = 0; k < length; k++) sums.block[k] = 0;
  sums.A = 0;
  sums.alpha2 = 0;
  sums.alpha3 = 0;
  sums.alphaBeta = 0;
  sums.K2 = 0;
  sums.K3 = 0;
}

/** tr(V⁻¹G_j) and tr(V⁻¹G_jV⁻¹G_k) of one car; the session-level parts of the residual were added before. */
function addCarTraces(sums: CarSums, F: number, h: number, first: Float64Array, second: Float64Array): void {
  const { A, alpha2, alpha3, alphaBeta, K2, K3 } = sums;
  const h2 = h * h;
  const F2 = F * F;
  first[0] = (first[0] as number) + A / F;
  first[1] = (first[1] as number) + A - h * alpha2;
  first[2] = (first[2] as number) - h * K2;
  second[0] = (second[0] as number) + (A * A) / F2;
  second[1] = (second[1] as number) + alpha2 / F2;
  second[2] = (second[2] as number) + K2 / F2;
  second[4] = (second[4] as number) + alpha2 - 2 * h * alpha3 + h2 * alpha2 * alpha2;
  second[5] = (second[5] as number) + K2 - 2 * h * alphaBeta + h2 * alpha2 * K2;
  second[8] = (second[8] as number) - 2 * h * K3 + h2 * K2 * K2;
}

import {
  absorb,
  type Block,
  emptyBlock,
  emptyScratch,
  LEVELS,
  PRODUCTS,
  PRODUCTS_WITHIN,
  pass,
  passSession,
  STRIDE,
  secondAt,
  type Traces,
} from './nestedProducts';
import type { Structure } from './structure';

/**
 * One pass over the cells for given variance components: every cross product the REML criterion, its derivatives and
 * the small-sample corrections need, in O(cells + Σ p_s² + Σ p_t²).
 *
 * Model: V = D_u + v_e I + v_S Z_S Z_S' + v_C Z_C Z_C' + v_T Z_T Z_T', sessions nested in a car on a loop, these in
 * cars. Runs are weighed by w = 1/(v_e + u²); then session, car on a loop and car are absorbed one after the other
 * (nestedProducts.ts). The response is carried as one more column behind the setups, so each matrix below is
 * (m + 1) × (m + 1) with its last row belonging to z.
 * Derivation: Harville D. A. (1977), JASA 72, 320–338; Kenward M. G., Roger J. H. (1997), Biometrics 53, 983.
 */
export interface Variances {
  car: number;
  /** A car's own deviation on one loop, beyond that of the car. */
  carLoop: number;
  session: number;
  residual: number;
}

/** The four components in the order used by every score vector and information matrix. */
export const COMPONENTS = ['car', 'carLoop', 'session', 'residual'] as const;
export type Component = (typeof COMPONENTS)[number];
export const COMPONENT_COUNT = COMPONENTS.length;

export interface CrossProducts {
  /** m + 1; the last column is the response. */
  size: number;
  logDetV: number;
  /** [X z]' V⁻¹ [X z]. */
  cross: Float64Array;
  derivatives: DerivativeProducts | null;
}

export interface DerivativeProducts {
  /** [X z]' V⁻¹ G_j V⁻¹ [X z] in the order of COMPONENTS. */
  first: Float64Array[];
  /** Symmetrised [X z]' V⁻¹ G_j V⁻¹ G_k V⁻¹ [X z] in the order of `pairIndex`. */
  second: Float64Array[];
  /** tr(V⁻¹ G_j). */
  traceFirst: Float64Array;
  /** tr(V⁻¹ G_j V⁻¹ G_k), 4 × 4. */
  traceSecond: Float64Array;
}

/** Where the pair of components (j, k) sits in `second`. */
export function pairIndex(j: number, k: number): number {
  const high = Math.max(j, k);
  return (high * (high + 1)) / 2 + Math.min(j, k);
}

/**
 * `z` holds one value a cell: the cell mean less whatever centre the caller chose, in the caller's scale.
 *
 * @param hasCarLoop whether the model has the level of a car on a loop; without it its products are 0
 */
export function accumulate(
  s: Structure,
  z: Float64Array,
  squares: Float64Array,
  knownVariance: Float64Array,
  v: Variances,
  hasCarLoop: boolean,
  withDerivatives: boolean,
): CrossProducts {
  const size = s.setups.length + 1;
  const whole = Array.from({ length: withDerivatives ? PRODUCTS : 1 }, () => new Float64Array(size * size));
  const traces: Traces | null = withDerivatives
    ? { first: new Float64Array(LEVELS), second: new Float64Array(PRODUCTS - 1 - LEVELS) }
    : null;
  const logs = new LogSum();
  let widest = 0;
  for (let t = 0; t < s.cars; t++) {
    widest = Math.max(widest, (s.supportOfCar[t + 1] as number) - (s.supportOfCar[t] as number));
  }
  const [session, loop, car] = [emptyBlock(widest + 2), emptyBlock(widest + 2), emptyBlock(widest + 2)];
  const scratch = emptyScratch(widest + 2);
  const within = (level: number) => PRODUCTS_WITHIN[withDerivatives ? level : 0] as Int32Array;
  // Without the level of a car on a loop the car is the second to be absorbed and not the third.
  const carLevel = hasCarLoop ? 3 : 2;
  const carried = within(carLevel + 1);
  const columnOf = new Int32Array(widest + 1);

  for (let t = 0; t < s.cars; t++) {
    const supportStart = s.supportOfCar[t] as number;
    const p = (s.supportOfCar[t + 1] as number) - supportStart;
    const one = p + 1;
    for (let l = s.loopOfCar[t] as number; l < (s.loopOfCar[t + 1] as number); l++) {
      for (let ses = s.sessionOfLoop[l] as number; ses < (s.sessionOfLoop[l + 1] as number); ses++) {
        addCells(session, s, ses, p, z, squares, knownVariance, v.residual, logs, traces);
        logs.add(absorb(session, one, 1, v.session, scratch, traces));
        passSession(session, hasCarLoop ? loop : car, withDerivatives);
      }
      if (!hasCarLoop) continue;
      sortTouched(loop);
      logs.add(absorb(loop, one, 2, v.carLoop, scratch, traces));
      pass(loop, car, within(3));
    }
    sortTouched(car);
    logs.add(absorb(car, one, carLevel, v.car, scratch, traces));
    flush(car, p, s.support, supportStart, whole, size, carried, columnOf);
  }
  return collect(whole, size, logs.value(), hasCarLoop, traces);
}

/** Weighs the runs of one session: w, w² and w³ for A, A_0 and A_00. */
function addCells(
  block: Block,
  s: Structure,
  session: number,
  p: number,
  z: Float64Array,
  squares: Float64Array,
  knownVariance: Float64Array,
  residual: number,
  logs: LogSum,
  traces: Traces | null,
): void {
  const { products, touched, isTouched } = block;
  let touchedCount = 0;
  const zRow = (p * (p + 1)) / 2;
  const oneRow = zRow + p + 1;
  const zz = (zRow + p) * STRIDE;
  const oneZ = (oneRow + p) * STRIDE;
  const oneOne = (oneRow + p + 1) * STRIDE;
  const weighted = 1;
  const twice = secondAt(0, 0);
  const end = s.cellOfSession[session + 1] as number;
  for (let i = s.cellOfSession[session] as number; i < end; i++) {
    const k = s.cellLocal[i] as number;
    const n = s.count[i] as number;
    const mean = z[i] as number;
    const w = 1 / (residual + (knownVariance[i] as number));
    if (isTouched[k] === 0) {
      isTouched[k] = 1;
      touched[touchedCount++] = k;
    }
    logs.subtract(w, n);
    const kk = ((k * (k + 1)) / 2 + k) * STRIDE;
    const zk = (zRow + k) * STRIDE;
    const onek = (oneRow + k) * STRIDE;
    let nw = n * w;
    let energy = w * (n * mean * mean + (squares[i] as number));
    for (let kind = 0; ; ) {
      const nwm = nw * mean;
      products[kk + kind] = (products[kk + kind] as number) + nw;
      products[zk + kind] = (products[zk + kind] as number) + nwm;
      products[onek + kind] = (products[onek + kind] as number) + nw;
      products[zz + kind] = (products[zz + kind] as number) + energy;
      products[oneZ + kind] = (products[oneZ + kind] as number) + nwm;
      products[oneOne + kind] = (products[oneOne + kind] as number) + nw;
      if (traces === null || kind === twice) break;
      if (kind === 0) traces.first[0] = (traces.first[0] as number) + nw;
      nw *= w;
      energy *= w;
      if (kind === 0) traces.second[0] = (traces.second[0] as number) + nw;
      kind = kind === 0 ? weighted : twice;
    }
  }
  touched[touchedCount++] = p;
  touched[touchedCount++] = p + 1;
  isTouched[p] = 1;
  isTouched[p + 1] = 1;
  block.touchedCount = touchedCount;
}

/** Columns come in the order of the sessions; the triangle wants them ascending. */
function sortTouched({ touched, touchedCount }: Block): void {
  for (let i = 1; i < touchedCount; i++) {
    const item = touched[i] as number;
    let j = i - 1;
    for (; j >= 0 && (touched[j] as number) > item; j--) touched[j + 1] = touched[j] as number;
    touched[j + 1] = item;
  }
}

/** Adds a car's block to the whole matrices (lower triangles), without the column of ones, and clears it. */
function flush(
  block: Block,
  p: number,
  support: Int32Array,
  supportStart: number,
  whole: Float64Array[],
  size: number,
  kinds: Int32Array,
  columnOf: Int32Array,
): void {
  const { products, isTouched } = block;
  for (let x = 0; x < p; x++) columnOf[x] = support[supportStart + x] as number;
  columnOf[p] = size - 1;
  for (let i = 0; i < kinds.length; i++) {
    const kind = kinds[i] as number;
    const matrix = whole[kind] as Float64Array;
    let from = kind;
    for (let x = 0; x <= p; x++) {
      const row = (columnOf[x] as number) * size;
      for (let y = 0; y <= x; y++, from += STRIDE) {
        const at = row + (columnOf[y] as number);
        matrix[at] = (matrix[at] as number) + (products[from] as number);
      }
    }
  }
  products.fill(0, 0, (((p + 2) * (p + 3)) / 2) * STRIDE);
  for (let x = 0; x <= p + 1; x++) isTouched[x] = 0;
  block.touchedCount = 0;
}

/** From inside out to the order of COMPONENTS. */
function collect(
  whole: Float64Array[],
  size: number,
  logDetV: number,
  hasCarLoop: boolean,
  traces: Traces | null,
): CrossProducts {
  const cross = whole[0] as Float64Array;
  if (traces === null) return { size, logDetV, cross, derivatives: null };
  // Car, car on a loop, session, residual from inside out; a level that is not there stays 0.
  const places = hasCarLoop ? [3, 2, 1, 0] : [2, 3, 1, 0];
  const inside = (j: number) => places[j] as number;
  const pairAt = (j: number, k: number) => {
    const [x, y] = [inside(j), inside(k)];
    return secondAt(Math.max(x, y), Math.min(x, y));
  };
  const first = COMPONENTS.map((_, j) => whole[1 + inside(j)] as Float64Array);
  const second: Float64Array[] = [];
  const traceSecond = new Float64Array(LEVELS * LEVELS);
  for (let j = 0; j < LEVELS; j++) {
    for (let k = 0; k <= j; k++) {
      const at = pairAt(j, k);
      second.push(whole[at] as Float64Array);
      const trace = traces.second[at - 1 - LEVELS] as number;
      traceSecond[j * LEVELS + k] = trace;
      traceSecond[k * LEVELS + j] = trace;
    }
  }
  const traceFirst = Float64Array.from(COMPONENTS, (_, j) => traces.first[inside(j)] as number);
  return { size, logDetV, cross, derivatives: { first, second, traceFirst, traceSecond } };
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

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
  const last = size - 1;
  const cross = new Float64Array(size * size);
  const first = [0, 1, 2].map(() => new Float64Array(withDerivatives ? size * size : 0));
  const second = [0, 1, 2, 3, 4, 5].map(() => new Float64Array(withDerivatives ? size * size : 0));
  const [pT, pS, pE] = first as [Float64Array, Float64Array, Float64Array];
  const [qTT, qTS, qSS, qTe, qSe, qEE] = second as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  const traceFirst = new Float64Array(3);
  const traceSecond = new Float64Array(9);
  let logDetV = 0;

  // Session sums over the car's own setups, plus the response at the end.
  const c1 = new Float64Array(size);
  const c2 = new Float64Array(size);
  const c3 = new Float64Array(size);
  const touched = new Int32Array(size);
  const isTouched = new Uint8Array(size);
  // Car sums: C, C₂, C₃ and the weighted session sums Y, Y₂, Y_β, Y_q.
  const carC = new Float64Array(size);
  const carC2 = new Float64Array(size);
  const carC3 = new Float64Array(size);
  const carY = new Float64Array(size);
  const carY2 = new Float64Array(size);
  const carYb = new Float64Array(size);
  const carYq = new Float64Array(size);
  const globalOf = new Int32Array(size);

  for (let t = 0; t < s.cars; t++) {
    const supportStart = s.supportOfCar[t] as number;
    const p = (s.supportOfCar[t + 1] as number) - supportStart;
    for (let k = 0; k < p; k++) globalOf[k] = s.support[supportStart + k] as number;
    globalOf[p] = last;
    for (let k = 0; k <= p; k++) {
      carC[k] = 0;
      carC2[k] = 0;
      carC3[k] = 0;
      carY[k] = 0;
      carY2[k] = 0;
      carYb[k] = 0;
      carYq[k] = 0;
    }
    let A = 0;
    let sumAlpha2 = 0;
    let sumAlpha3 = 0;
    let sumAlphaBeta = 0;
    let K2 = 0;
    let K3 = 0;

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
        const nw = n * w;
        const energy = n * mean * mean + (squares[i] as number);
        logDetV -= n * Math.log(w);
        a1 += nw;
        c1[k] = (c1[k] as number) + nw;
        c1[p] = (c1[p] as number) + nw * mean;
        const g = globalOf[k] as number;
        const rowZ = last * size;
        cross[g * size + g] = (cross[g * size + g] as number) + nw;
        cross[rowZ + g] = (cross[rowZ + g] as number) + nw * mean;
        cross[rowZ + last] = (cross[rowZ + last] as number) + w * energy;
        if (withDerivatives) {
          const nw2 = nw * w;
          const nw3 = nw2 * w;
          a2 += nw2;
          a3 += nw3;
          c2[k] = (c2[k] as number) + nw2;
          c2[p] = (c2[p] as number) + nw2 * mean;
          c3[k] = (c3[k] as number) + nw3;
          c3[p] = (c3[p] as number) + nw3 * mean;
          pE[g * size + g] = (pE[g * size + g] as number) + nw2;
          pE[rowZ + g] = (pE[rowZ + g] as number) + nw2 * mean;
          pE[rowZ + last] = (pE[rowZ + last] as number) + w * w * energy;
          qEE[g * size + g] = (qEE[g * size + g] as number) + nw3;
          qEE[rowZ + g] = (qEE[rowZ + g] as number) + nw3 * mean;
          qEE[rowZ + last] = (qEE[rowZ + last] as number) + w * w * w * energy;
        }
      }
      const f = 1 + v.session * a1;
      const g = v.session / f;
      const alpha = a1 / f;
      logDetV += Math.log(f);
      A += alpha;
      for (let q = 0; q < touchedCount; q++) {
        const k = touched[q] as number;
        isTouched[k] = 0;
        carC[k] = (carC[k] as number) + (c1[k] as number) / f;
      }
      carC[p] = (carC[p] as number) + (c1[p] as number) / f;
      touched[touchedCount++] = p;
      const f2 = f * f;
      const beta = a2 / f2;
      if (withDerivatives) {
        sumAlpha2 += alpha * alpha;
        sumAlpha3 += alpha * alpha * alpha;
        sumAlphaBeta += alpha * beta;
        K2 += beta;
        K3 += (a3 - g * a2 * a2) / f2;
        traceFirst[2] = (traceFirst[2] as number) + a1 - g * a2;
        traceSecond[8] = (traceSecond[8] as number) + a2 - 2 * g * a3 + g * g * a2 * a2;
        traceSecond[5] = (traceSecond[5] as number) + beta;
        for (let q = 0; q < touchedCount; q++) {
          const k = touched[q] as number;
          const one = c1[k] as number;
          const two = c2[k] as number;
          carC2[k] = (carC2[k] as number) + (two - g * a2 * one) / f;
          carC3[k] =
            (carC3[k] as number) + ((c3[k] as number) - g * a3 * one - g * a2 * (two - g * a2 * one)) / f;
          carY[k] = (carY[k] as number) + (alpha * one) / f;
          carY2[k] = (carY2[k] as number) + (alpha * alpha * one) / f;
          carYb[k] = (carYb[k] as number) + (beta * one) / f;
          carYq[k] = (carYq[k] as number) + (alpha * (two - g * a2 * one)) / f;
        }
      }
      const crossWeight = g * g * g * a2 * a2 - g * g * a3;
      for (let x = 0; x < touchedCount; x++) {
        const kx = touched[x] as number;
        const gx = globalOf[kx] as number;
        const x1 = c1[kx] as number;
        const x2 = c2[kx] as number;
        const x3 = c3[kx] as number;
        for (let y = 0; y < touchedCount; y++) {
          const ky = touched[y] as number;
          const gy = globalOf[ky] as number;
          if (gy > gx) continue;
          const at = gx * size + gy;
          const y1 = c1[ky] as number;
          const oneOne = x1 * y1;
          cross[at] = (cross[at] as number) - g * oneOne;
          if (!withDerivatives) continue;
          const y2 = c2[ky] as number;
          const oneTwo = x1 * y2 + x2 * y1;
          pS[at] = (pS[at] as number) + oneOne / f2;
          pE[at] = (pE[at] as number) - g * oneTwo + g * g * a2 * oneOne;
          qSS[at] = (qSS[at] as number) + (alpha / f2) * oneOne;
          qSe[at] = (qSe[at] as number) + (0.5 * oneTwo - g * a2 * oneOne) / f2;
          qEE[at] =
            (qEE[at] as number) -
            g * (x3 * y1 + x2 * y2 + x1 * (c3[ky] as number)) +
            g * g * a2 * oneTwo -
            crossWeight * oneOne;
        }
      }
    }

    const F = 1 + v.car * A;
    const h = v.car / F;
    logDetV += Math.log(F);
    if (withDerivatives) {
      const h2 = h * h;
      const F2 = F * F;
      traceFirst[0] = (traceFirst[0] as number) + A / F;
      traceFirst[1] = (traceFirst[1] as number) + A - h * sumAlpha2;
      traceFirst[2] = (traceFirst[2] as number) - h * K2;
      traceSecond[0] = (traceSecond[0] as number) + (A / F) ** 2;
      traceSecond[1] = (traceSecond[1] as number) + sumAlpha2 / F2;
      traceSecond[4] = (traceSecond[4] as number) + sumAlpha2 - 2 * h * sumAlpha3 + h2 * sumAlpha2 ** 2;
      traceSecond[2] = (traceSecond[2] as number) + K2 / F2;
      traceSecond[5] = (traceSecond[5] as number) - 2 * h * sumAlphaBeta + h2 * sumAlpha2 * K2;
      traceSecond[8] = (traceSecond[8] as number) - 2 * h * K3 + h2 * K2 * K2;
    }
    const overF2 = 1 / (F * F);
    const weightTT = A / (F * F * F);
    for (let x = 0; x <= p; x++) {
      const gx = globalOf[x] as number;
      const xC = carC[x] as number;
      const xD = (carC2[x] as number) - h * K2 * xC;
      const xYhat = (carY[x] as number) - h * sumAlpha2 * xC;
      for (let y = 0; y <= x; y++) {
        const at = gx * size + (globalOf[y] as number);
        const yC = carC[y] as number;
        const both = xC * yC;
        cross[at] = (cross[at] as number) - h * both;
        if (!withDerivatives) continue;
        const yD = (carC2[y] as number) - h * K2 * yC;
        const yYhat = (carY[y] as number) - h * sumAlpha2 * yC;
        const symmetricY = (carY[x] as number) * yC + xC * (carY[y] as number);
        const symmetricC2 = (carC2[x] as number) * yC + xC * (carC2[y] as number);
        pT[at] = (pT[at] as number) + overF2 * both;
        pS[at] = (pS[at] as number) - h * symmetricY + h * h * sumAlpha2 * both;
        pE[at] = (pE[at] as number) - h * symmetricC2 + h * h * K2 * both;
        qTT[at] = (qTT[at] as number) + weightTT * both;
        qTS[at] = (qTS[at] as number) + 0.5 * overF2 * (xC * yYhat + xYhat * yC);
        qSS[at] =
          (qSS[at] as number) -
          h * ((carY2[x] as number) * yC + xC * (carY2[y] as number)) +
          h * h * sumAlpha3 * both -
          h * xYhat * yYhat;
        qTe[at] = (qTe[at] as number) + 0.5 * overF2 * (xC * yD + xD * yC);
        // Σ x_s y_s' without its session-level part, symmetrised.
        qSe[at] =
          (qSe[at] as number) +
          0.5 *
            (-h * ((carYb[x] as number) * yC + xC * (carYb[y] as number)) -
              h * ((carY[x] as number) * yD + xD * (carY[y] as number)) -
              h * ((carYq[x] as number) * yC + xC * (carYq[y] as number)) +
              2 * h * h * sumAlphaBeta * both +
              h * h * sumAlpha2 * (xC * yD + xD * yC));
        qEE[at] =
          (qEE[at] as number) -
          h *
            ((carC3[x] as number) * yC +
              (carC2[x] as number) * (carC2[y] as number) +
              xC * (carC3[y] as number)) +
          h * h * (K2 * symmetricC2 + K3 * both) -
          h * h * h * K2 * K2 * both;
      }
    }
  }
  if (!withDerivatives) return { size, logDetV, cross, derivatives: null };
  traceSecond[3] = traceSecond[1] as number;
  traceSecond[6] = traceSecond[2] as number;
  traceSecond[7] = traceSecond[5] as number;
  return { size, logDetV, cross, derivatives: { first, second, traceFirst, traceSecond } };
}

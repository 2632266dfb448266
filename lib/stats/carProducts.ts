/**
 * The outer products of one car, gathered in a small block before they go to the whole matrices.
 * The ten products are kept side by side for each pair of columns, in this order:
 *   0 V⁻¹;  1–3 V⁻¹G_jV⁻¹ for car, session, residual;  4–9 V⁻¹G_jV⁻¹G_kV⁻¹ in the order TT, TS, SS, Te, Se, ee,
 * each between [X z]' and [X z], lower triangle. Symbols as in accumulate.ts; x_s = X'V⁻¹1_session = c/f − hαC.
 */
export const PRODUCTS = 10;

/** Ten size × size matrices; all but the first are empty when no derivatives are wanted. */
export type Products = Float64Array[];

/** Sums over one car; vectors run over its own setups with the response last. */
export interface CarSums {
  /** Σw, Σw², Σw³ of the session at hand. */
  c1: Float64Array;
  c2: Float64Array;
  c3: Float64Array;
  /** Σ c/f, X'Bκ and X'B²κ. */
  C: Float64Array;
  C2: Float64Array;
  C3: Float64Array;
  /** Σ α c/f, Σ α² c/f, Σ β c/f, Σ α (c₂ − g a₂ c)/f, with β = a₂/f². */
  Y: Float64Array;
  Y2: Float64Array;
  Yb: Float64Array;
  Yq: Float64Array;
  block: Float64Array;
  A: number;
  /** Σ α², Σ α³, Σ αβ. */
  alpha2: number;
  alpha3: number;
  alphaBeta: number;
  /** κ'κ and κ'Bκ. */
  K2: number;
  K3: number;
}

export interface SessionScalars {
  a1: number;
  a2: number;
  a3: number;
  f: number;
  g: number;
}

/** Adds one session: B = W − g w w' and its powers, and the session's share of the car's sums. */
export function addSessionProducts(
  sums: CarSums,
  touched: Int32Array,
  touchedCount: number,
  { a1, a2, a3, f, g }: SessionScalars,
  withDerivatives: boolean,
): void {
  const { c1, c2, c3, C, C2, C3, Y, Y2, Yb, Yq, block } = sums;
  const alpha = a1 / f;
  const inverseF = 1 / f;
  const inverseF2 = inverseF * inverseF;
  const beta = a2 * inverseF2;
  const ga2 = g * a2;
  sums.A += alpha;
  if (withDerivatives) {
    sums.alpha2 += alpha * alpha;
    sums.alpha3 += alpha * alpha * alpha;
    sums.alphaBeta += alpha * beta;
    sums.K2 += beta;
    sums.K3 += (a3 - ga2 * a2) * inverseF2;
  }
  const g2a2 = g * ga2;
  // Coefficients of c c' in B³ and in Σ p q'.
  const cubic = g * g * a3 - g2a2 * ga2;
  for (let x = 0; x < touchedCount; x++) {
    const k = touched[x] as number;
    const x1 = c1[k] as number;
    C[k] = (C[k] as number) + x1 * inverseF;
    if (!withDerivatives) {
      const row = (k * (k + 1)) / 2;
      for (let y = 0; y <= x; y++) {
        const l = touched[y] as number;
        const at = (row + l) * PRODUCTS;
        block[at] = (block[at] as number) - g * x1 * (c1[l] as number);
      }
      continue;
    }
    const x2 = c2[k] as number;
    const x3 = c3[k] as number;
    const bent = x2 - ga2 * x1;
    C2[k] = (C2[k] as number) + bent * inverseF;
    C3[k] = (C3[k] as number) + (x3 - g * a3 * x1 - ga2 * bent) * inverseF;
    Y[k] = (Y[k] as number) + alpha * x1 * inverseF;
    Y2[k] = (Y2[k] as number) + alpha * alpha * x1 * inverseF;
    Yb[k] = (Yb[k] as number) + beta * x1 * inverseF;
    Yq[k] = (Yq[k] as number) + alpha * bent * inverseF;
    const row = (k * (k + 1)) / 2;
    for (let y = 0; y <= x; y++) {
      const l = touched[y] as number;
      const at = (row + l) * PRODUCTS;
      const y1 = c1[l] as number;
      const y2 = c2[l] as number;
      const oneOne = x1 * y1;
      const oneTwo = x1 * y2 + x2 * y1;
      block[at] = (block[at] as number) - g * oneOne;
      block[at + 2] = (block[at + 2] as number) + inverseF2 * oneOne;
      block[at + 3] = (block[at + 3] as number) - g * oneTwo + g2a2 * oneOne;
      block[at + 6] = (block[at + 6] as number) + alpha * inverseF2 * oneOne;
      block[at + 8] = (block[at + 8] as number) + (0.5 * oneTwo - ga2 * oneOne) * inverseF2;
      block[at + 9] =
        (block[at + 9] as number) -
        g * (x3 * y1 + x2 * y2 + x1 * (c3[l] as number)) +
        g2a2 * oneTwo +
        cubic * oneOne;
    }
  }
}

/** Adds the car's own rank-one corrections, −h κκ' and what follows from it. */
export function addCarProducts(
  sums: CarSums,
  p: number,
  F: number,
  h: number,
  withDerivatives: boolean,
): void {
  const { C, C2, C3, Y, Y2, Yb, Yq, block, A, alpha2, alpha3, alphaBeta, K2, K3 } = sums;
  const h2 = h * h;
  const overF2 = 1 / (F * F);
  const weightTT = A / (F * F * F);
  let at = 0;
  for (let x = 0; x <= p; x++) {
    const xC = C[x] as number;
    const xC2 = C2[x] as number;
    const xD = xC2 - h * K2 * xC;
    const xY = Y[x] as number;
    const xYhat = xY - h * alpha2 * xC;
    for (let y = 0; y <= x; y++, at += PRODUCTS) {
      const yC = C[y] as number;
      const both = xC * yC;
      block[at] = (block[at] as number) - h * both;
      if (!withDerivatives) continue;
      const yC2 = C2[y] as number;
      const yD = yC2 - h * K2 * yC;
      const yY = Y[y] as number;
      const yYhat = yY - h * alpha2 * yC;
      const mixedC2 = xC2 * yC + xC * yC2;
      const mixedD = xC * yD + xD * yC;
      block[at + 1] = (block[at + 1] as number) + overF2 * both;
      block[at + 2] = (block[at + 2] as number) - h * (xY * yC + xC * yY) + h2 * alpha2 * both;
      block[at + 3] = (block[at + 3] as number) - h * mixedC2 + h2 * K2 * both;
      block[at + 4] = (block[at + 4] as number) + weightTT * both;
      block[at + 5] = (block[at + 5] as number) + 0.5 * overF2 * (xC * yYhat + xYhat * yC);
      block[at + 6] =
        (block[at + 6] as number) -
        h * ((Y2[x] as number) * yC + xC * (Y2[y] as number)) +
        h2 * alpha3 * both -
        h * xYhat * yYhat;
      block[at + 7] = (block[at + 7] as number) + 0.5 * overF2 * mixedD;
      block[at + 8] =
        (block[at + 8] as number) +
        0.5 * h2 * alpha2 * mixedD +
        h2 * alphaBeta * both -
        0.5 *
          h *
          (((Yb[x] as number) + (Yq[x] as number)) * yC +
            xC * ((Yb[y] as number) + (Yq[y] as number)) +
            xY * yD +
            xD * yY);
      block[at + 9] =
        (block[at + 9] as number) -
        h * ((C3[x] as number) * yC + xC2 * yC2 + xC * (C3[y] as number)) +
        h2 * (K2 * mixedC2 + K3 * both) -
        h2 * h * K2 * K2 * both;
    }
  }
}

/** Adds a car's block to the whole matrices (lower triangles). */
export function flush(
  block: Float64Array,
  p: number,
  globalOf: Int32Array,
  products: Products,
  size: number,
  withDerivatives: boolean,
): void {
  const count = withDerivatives ? PRODUCTS : 1;
  for (let c = 0; c < count; c++) {
    const whole = products[c] as Float64Array;
    let from = c;
    for (let x = 0; x <= p; x++) {
      const row = (globalOf[x] as number) * size;
      for (let y = 0; y <= x; y++, from += PRODUCTS) {
        const at = row + (globalOf[y] as number);
        whole[at] = (whole[at] as number) + (block[from] as number);
      }
    }
  }
}

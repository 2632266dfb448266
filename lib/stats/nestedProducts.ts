/**
 * One step of the absorption: a block whose inverse covariance is Q gains the random effect of its level,
 * V' = V + v 11', so that Q' = Q − h Q11'Q with h = v/(1 + v 1'Q1) (Sherman J., Morrison W. J., 1950).
 *
 * Carried along, for the columns Y = [X z 1] that the block touches, and inside-out components j = 0 residual,
 * 1 session, 2 car on a loop, 3 car:
 *   A = Y'QY,  A_j = Y'QG_jQY,  A_jk = Y'QG_jQG_kQY symmetrised,  tr QG_j,  tr QG_jQG_k.
 * Because 1 is one of the columns, what the step needs is already there. With a = Y'Q1, s = 1'Q1, F = 1 + v s,
 * T = I − h e₁a' (columns Y − h 1 (1'QY)), b_j = A_j e₁ and b̃_j = T'b_j:
 *   A'    = A − h a a'
 *   A'_j  = T'A_jT  = A_j − h (a b̃_j' + b_j a')
 *   A'_jk = T'A_jkT − h (b̃_j b̃_k' + b̃_k b̃_j')/2
 * and for the new component L, with ã = a/F:
 *   A'_L = ã ã',  A'_LL = ã ã' s/F,  A'_Lk = (ã b̃_k' + b̃_k ã')/2F.
 * Blocks of one level are independent, so those of the level above are the sums of these.
 */

/** Residual, session, car on a loop, car. */
export const LEVELS = 4;
/** A, then A_0 … A_3, then the ten A_jk in the order 00, 10, 11, 20 … 33. */
export const PRODUCTS = 1 + LEVELS + (LEVELS * (LEVELS + 1)) / 2;
/** Products of a pair of columns lie side by side; a power of two keeps the addresses cheap. */
export const STRIDE = 16;

/** Where the product of components j ≥ k sits. */
export const secondAt = (j: number, k: number): number => 1 + LEVELS + (j * (j + 1)) / 2 + k;

/** Products that exist once `level` components are absorbed. */
export const PRODUCTS_WITHIN: readonly Int32Array[] = [0, 1, 2, 3, 4].map((level) => {
  const found = [0];
  for (let j = 0; j < level; j++) found.push(1 + j);
  for (let j = 0; j < level; j++) for (let k = 0; k <= j; k++) found.push(secondAt(j, k));
  return Int32Array.from(found);
});

/** Sums over one block. Columns are numbered within the car: its setups, then the response, then the ones. */
export interface Block {
  /** Lower triangle, `STRIDE` products a pair. */
  products: Float64Array;
  touched: Int32Array;
  touchedCount: number;
  isTouched: Uint8Array;
}

export function emptyBlock(columns: number): Block {
  return {
    products: new Float64Array(((columns * (columns + 1)) / 2) * STRIDE),
    touched: new Int32Array(columns),
    touchedCount: 0,
    isTouched: new Uint8Array(columns),
  };
}

export interface Traces {
  /** tr(V⁻¹G_j), inside out. */
  first: Float64Array;
  /** tr(V⁻¹G_jV⁻¹G_k) in the order of `secondAt`, from 0. */
  second: Float64Array;
}

/** Room for the vectors of one step, so that none is made per block. */
export interface Scratch {
  a: Float64Array;
  scaled: Float64Array;
  /** b_j and b̃_j by column, `LEVELS` side by side. */
  b: Float64Array;
  bent: Float64Array;
  /** b_jk and b̃_jk, ten side by side. */
  b2: Float64Array;
  bent2: Float64Array;
}

const PAIRS = (LEVELS * (LEVELS + 1)) / 2;

export function emptyScratch(columns: number): Scratch {
  const room = (each: number) => new Float64Array(columns * each);
  return {
    a: room(1),
    scaled: room(1),
    b: room(LEVELS),
    bent: room(LEVELS),
    b2: room(PAIRS),
    bent2: room(PAIRS),
  };
}

/**
 * Adds component `level` (1 session, 2 car on a loop, 3 car) with variance `v` to a block, in place.
 *
 * @param one the column of ones, touched by every block
 * @returns F = 1 + v 1'Q1, whose logarithm is the block's share of ln|V|
 */
export function absorb(
  block: Block,
  one: number,
  level: number,
  v: number,
  scratch: Scratch,
  traces: Traces | null,
): number {
  const { products, touched, touchedCount } = block;
  const { a, scaled, b, bent, b2, bent2 } = scratch;
  const oneRow = (one * (one + 1)) / 2;
  const corner = (oneRow + one) * STRIDE;
  const s = products[corner] as number;
  const F = 1 + v * s;
  const h = v / F;
  const inverseF = 1 / F;
  if (traces === null) {
    for (let x = 0; x < touchedCount; x++) {
      a[x] = products[(oneRow + (touched[x] as number)) * STRIDE] as number;
    }
    for (let x = 0; x < touchedCount; x++) {
      const row = touched[x] as number;
      const base = (row * (row + 1)) / 2;
      const hax = h * (a[x] as number);
      for (let y = 0; y <= x; y++) {
        const at = (base + (touched[y] as number)) * STRIDE;
        products[at] = (products[at] as number) - hax * (a[y] as number);
      }
    }
    return F;
  }
  addTraces(products, corner, level, h, inverseF, traces);
  if (level === 1) {
    absorbSession(block, oneRow, h, inverseF, scratch);
    return F;
  }
  const pairs = (level * (level + 1)) / 2;
  const second = 1 + LEVELS;
  for (let x = 0; x < touchedCount; x++) {
    const at = (oneRow + (touched[x] as number)) * STRIDE;
    const ax = products[at] as number;
    const hax = h * ax;
    a[x] = ax;
    scaled[x] = ax * inverseF;
    for (let j = 0; j < level; j++) {
      const bj = products[at + 1 + j] as number;
      b[x * LEVELS + j] = bj;
      bent[x * LEVELS + j] = bj - hax * (products[corner + 1 + j] as number);
    }
    for (let q = 0; q < pairs; q++) {
      const bq = products[at + second + q] as number;
      b2[x * PAIRS + q] = bq;
      bent2[x * PAIRS + q] = bq - hax * (products[corner + second + q] as number);
    }
  }
  const half = 0.5 * inverseF;
  const sOverF = s * inverseF;
  const own = second + pairs;
  for (let x = 0; x < touchedCount; x++) {
    const row = touched[x] as number;
    const base = (row * (row + 1)) / 2;
    const hax = h * (a[x] as number);
    const sx = scaled[x] as number;
    for (let y = 0; y <= x; y++) {
      const at = (base + (touched[y] as number)) * STRIDE;
      const ay = a[y] as number;
      const hay = h * ay;
      const sy = scaled[y] as number;
      products[at] = (products[at] as number) - hax * ay;
      let q = 0;
      for (let j = 0; j < level; j++) {
        const xj = bent[x * LEVELS + j] as number;
        const yj = bent[y * LEVELS + j] as number;
        products[at + 1 + j] =
          (products[at + 1 + j] as number) - hax * yj - (b[x * LEVELS + j] as number) * hay;
        products[at + own + j] = half * (sx * yj + xj * sy);
        for (let k = 0; k <= j; k++, q++) {
          products[at + second + q] =
            (products[at + second + q] as number) -
            hax * (bent2[y * PAIRS + q] as number) -
            (b2[x * PAIRS + q] as number) * hay -
            0.5 * h * (xj * (bent[y * LEVELS + k] as number) + (bent[x * LEVELS + k] as number) * yj);
        }
      }
      const both = sx * sy;
      products[at + 1 + level] = both;
      products[at + own + level] = both * sOverF;
    }
  }
  return F;
}

/** The same for the innermost level, written out: most of a fit's time is spent here. */
function absorbSession(block: Block, oneRow: number, h: number, inverseF: number, scratch: Scratch): void {
  const { products, touched, touchedCount } = block;
  const { a, scaled, b, bent, b2, bent2 } = scratch;
  const corner = (oneRow + (touched[touchedCount - 1] as number)) * STRIDE;
  const [second, mixed, own] = [1 + LEVELS, 2 + LEVELS, 3 + LEVELS];
  const b0 = products[corner + 1] as number;
  const b00 = products[corner + second] as number;
  const sOverF = (products[corner] as number) * inverseF;
  for (let x = 0; x < touchedCount; x++) {
    const at = (oneRow + (touched[x] as number)) * STRIDE;
    const ax = products[at] as number;
    const hax = h * ax;
    const bx = products[at + 1] as number;
    const bbx = products[at + second] as number;
    a[x] = ax;
    scaled[x] = ax * inverseF;
    b[x] = bx;
    bent[x] = bx - hax * b0;
    b2[x] = bbx;
    bent2[x] = bbx - hax * b00;
  }
  const half = 0.5 * inverseF;
  for (let x = 0; x < touchedCount; x++) {
    const row = touched[x] as number;
    const base = (row * (row + 1)) / 2;
    const hax = h * (a[x] as number);
    const sx = scaled[x] as number;
    const hbx = h * (b[x] as number);
    const hbbx = h * (b2[x] as number);
    const cx = bent[x] as number;
    const hcx = h * cx;
    for (let y = 0; y <= x; y++) {
      const at = (base + (touched[y] as number)) * STRIDE;
      const ay = a[y] as number;
      const sy = scaled[y] as number;
      const cy = bent[y] as number;
      const both = sx * sy;
      products[at] = (products[at] as number) - hax * ay;
      products[at + 1] = (products[at + 1] as number) - hax * cy - hbx * ay;
      products[at + 2] = both;
      products[at + second] =
        (products[at + second] as number) - hax * (bent2[y] as number) - hbbx * ay - hcx * cy;
      products[at + mixed] = half * (sx * cy + cx * sy);
      products[at + own] = both * sOverF;
    }
  }
}

/** tr QG_j − h b_j(1), tr QG_jQG_k − 2h b_jk(1) + h² b_j(1) b_k(1), and the new component's. */
function addTraces(
  products: Float64Array,
  corner: number,
  level: number,
  h: number,
  inverseF: number,
  { first, second }: Traces,
): void {
  const share = (products[corner] as number) * inverseF;
  const own = (level * (level + 1)) / 2;
  let q = 0;
  for (let j = 0; j < level; j++) {
    const bj = products[corner + 1 + j] as number;
    first[j] = (first[j] as number) - h * bj;
    second[own + j] = (second[own + j] as number) + bj * inverseF * inverseF;
    for (let k = 0; k <= j; k++, q++) {
      const bk = products[corner + 1 + k] as number;
      const bjk = products[corner + 1 + LEVELS + q] as number;
      second[q] = (second[q] as number) - 2 * h * bjk + h * h * bj * bk;
    }
  }
  first[level] = (first[level] as number) + share;
  second[own + level] = (second[own + level] as number) + share * share;
}

/** Adds a session's block to the block of the level above, and clears it: products 0, 1, 2 and 00, 10, 11. */
export function passSession(block: Block, into: Block, withDerivatives: boolean): void {
  const { products, touched, touchedCount } = block;
  const above = into.products;
  markTouched(block, into);
  for (let x = 0; x < touchedCount; x++) {
    const row = touched[x] as number;
    const base = (row * (row + 1)) / 2;
    for (let y = 0; y <= x; y++) {
      const at = (base + (touched[y] as number)) * STRIDE;
      above[at] = (above[at] as number) + (products[at] as number);
      products[at] = 0;
      if (!withDerivatives) continue;
      above[at + 1] = (above[at + 1] as number) + (products[at + 1] as number);
      above[at + 2] = (above[at + 2] as number) + (products[at + 2] as number);
      above[at + 5] = (above[at + 5] as number) + (products[at + 5] as number);
      above[at + 6] = (above[at + 6] as number) + (products[at + 6] as number);
      above[at + 7] = (above[at + 7] as number) + (products[at + 7] as number);
      products[at + 1] = 0;
      products[at + 2] = 0;
      products[at + 5] = 0;
      products[at + 6] = 0;
      products[at + 7] = 0;
    }
  }
  block.touchedCount = 0;
}

function markTouched({ touched, touchedCount, isTouched }: Block, into: Block): void {
  for (let x = 0; x < touchedCount; x++) {
    const column = touched[x] as number;
    isTouched[column] = 0;
    if (into.isTouched[column] === 1) continue;
    into.isTouched[column] = 1;
    into.touched[into.touchedCount++] = column;
  }
}

/** Adds the block of a car on a loop to its car's, and clears it. */
export function pass(block: Block, into: Block, kinds: Int32Array): void {
  const { products, touched, touchedCount } = block;
  const above = into.products;
  markTouched(block, into);
  for (let x = 0; x < touchedCount; x++) {
    const row = touched[x] as number;
    const base = (row * (row + 1)) / 2;
    for (let y = 0; y <= x; y++) {
      const at = (base + (touched[y] as number)) * STRIDE;
      for (let i = 0; i < kinds.length; i++) {
        const to = at + (kinds[i] as number);
        above[to] = (above[to] as number) + (products[to] as number);
        products[to] = 0;
      }
    }
  }
  block.touchedCount = 0;
}

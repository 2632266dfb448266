import { factorSemidefinite } from '@/lib/numerics/cholesky';
import {
  chiSquareLowerQuantile,
  fLower,
  normalUpperQuantile,
  tUpperQuantile,
} from '@/lib/numerics/distributions';
import { createRandom } from '@/lib/numerics/random';
import { solveIncreasing } from '@/lib/numerics/rootFinding';

/**
 * Critical values for many correlated contrasts at once: the 1 − α quantile of max |t| over a family.
 * Single-step max-t: Hothorn T., Bretz F., Westfall P. (2008), Biometrical Journal 50, 346.
 * Points: randomly shifted Richtmyer lattice with the tent transform, Genz A., Bretz F. (2002), JCGS 11, 950.
 * The radius is integrated exactly: with Z ~ N(0, I_r) and s² = χ²_df/df, |Z|²/(r s²) is F(r, df) and
 * independent of the direction, so P(max|t| ≤ c) = E F_{r,df}(c² / (r M²)) over directions only.
 */
export interface Draws {
  m: number;
  count: number;
  /** Independent random shifts; their spread gives the Monte Carlo error. */
  shifts: number;
  /** count × m correlated normal draws, row by row. */
  values: Float64Array;
  /** |Z|² of the underlying independent normals. */
  radiusSquared: Float64Array;
  /** A uniform per draw for the common χ² of the t distribution. */
  chiUniform: Float64Array;
  /** F tables by degrees of freedom, kept because step-down asks for the same one again and again. */
  tables: Map<number, (lnX: number) => number>;
}

export interface CriticalValue {
  value: number;
  /** Standard error of `value` from the spread between random shifts; 0 where it is a formula. */
  monteCarloError: number;
  method: 'max-t' | 'sidak' | 'single';
  df: number;
  pairs: number;
}

const SHIFTS = 10;

function firstPrimes(count: number): number[] {
  const primes: number[] = [];
  for (let candidate = 2; primes.length < count; candidate++) {
    if (primes.every((p) => p * p > candidate || candidate % p !== 0)) primes.push(candidate);
  }
  return primes;
}

/** Correlated draws from N(0, covariance), seeded. `covariance` is m × m and may be singular. */
export function drawCorrelated(covariance: Float64Array, m: number, count: number, seed: number): Draws {
  const random = createRandom(seed);
  const lower = factorSemidefinite(covariance, m);
  const perShift = Math.max(1, Math.ceil(count / SHIFTS));
  const total = perShift * SHIFTS;
  const roots = firstPrimes(m + 1).map((p) => Math.sqrt(p) % 1);
  const values = new Float64Array(total * m);
  const radiusSquared = new Float64Array(total);
  const chiUniform = new Float64Array(total);
  const normals = new Float64Array(m);
  let row = 0;
  for (let shift = 0; shift < SHIFTS; shift++) {
    const offsets = roots.map(() => random.next());
    for (let i = 1; i <= perShift; i++, row++) {
      let radius = 0;
      for (let k = 0; k <= m; k++) {
        const raw = (i * (roots[k] as number) + (offsets[k] as number)) % 1;
        const tent = Math.min(Math.max(Math.abs(2 * raw - 1), 1e-15), 1 - 1e-15);
        if (k === m) chiUniform[row] = tent;
        else {
          const z = normalUpperQuantile(tent);
          normals[k] = z;
          radius += z * z;
        }
      }
      radiusSquared[row] = radius;
      for (let k = 0; k < m; k++) {
        let sum = 0;
        for (let l = 0; l <= k; l++) sum += (lower[k * m + l] as number) * (normals[l] as number);
        values[row * m + k] = sum;
      }
    }
  }
  return { m, count: total, shifts: SHIFTS, values, radiusSquared, chiUniform, tables: new Map() };
}

/** Pairs as flat arrays: the contrast of pair i is value[a] − value[b], with standard error se. */
export interface PairFamily {
  a: Int32Array;
  b: Int32Array;
  se: Float64Array;
}

/** max over pairs of |X_a − X_b| / se for each draw, divided by the draw's radius. */
function directionMaxima(draws: Draws, pairs: PairFamily, keep: (pair: number) => boolean): Float64Array {
  const chosen: number[] = [];
  for (let i = 0; i < pairs.a.length; i++) if (keep(i)) chosen.push(i);
  const a = Int32Array.from(chosen, (i) => pairs.a[i] as number);
  const b = Int32Array.from(chosen, (i) => pairs.b[i] as number);
  const inverseSe = Float64Array.from(chosen, (i) => 1 / (pairs.se[i] as number));
  const maxima = new Float64Array(draws.count);
  const { m, values } = draws;
  const row = new Float64Array(m);
  for (let r = 0; r < draws.count; r++) {
    row.set(values.subarray(r * m, (r + 1) * m));
    let largest = 0;
    for (let i = 0; i < a.length; i++) {
      const t =
        ((row[a[i] as number] as number) - (row[b[i] as number] as number)) * (inverseSe[i] as number);
      if (t > largest) largest = t;
      else if (-t > largest) largest = -t;
    }
    maxima[r] = largest / Math.sqrt(draws.radiusSquared[r] as number);
  }
  return maxima;
}

/** F_{r,df} as a function of ln x on an even grid, read linearly (error below 1e-6); a node is computed when first asked for. */
function tabulateF(r: number, df: number): (lnX: number) => number {
  const from = -12;
  const to = 14;
  const steps = 6000;
  const table = new Float64Array(steps + 1).fill(Number.NaN);
  const finite = Math.min(df, 1e8);
  const node = (i: number): number => {
    const known = table[i] as number;
    if (!Number.isNaN(known)) return known;
    const value = fLower(Math.exp(from + ((to - from) * i) / steps), r, finite);
    table[i] = value;
    return value;
  };
  return (lnX) => {
    const at = ((lnX - from) / (to - from)) * steps;
    if (!(at > 0)) return 0;
    if (at >= steps) return 1;
    const cell = Math.floor(at);
    const low = node(cell);
    return low + (at - cell) * (node(cell + 1) - low);
  };
}

/**
 * The critical value of the pairs kept.
 *
 * @param df degrees of freedom of the common variance (the smallest of the family); may be infinite
 */
export function criticalValue(
  draws: Draws,
  pairs: PairFamily,
  df: number,
  level: number,
  keep: (pair: number) => boolean = () => true,
): CriticalValue {
  let count = 0;
  for (let i = 0; i < pairs.a.length; i++) if (keep(i)) count++;
  if (count <= 1) {
    const value = tUpperQuantile((1 - level) / 2, df);
    return { value, monteCarloError: 0, method: 'single', df, pairs: count };
  }
  const maxima = directionMaxima(draws, pairs, keep);
  const cumulative = draws.tables.get(df) ?? tabulateF(draws.m, df);
  draws.tables.set(df, cumulative);
  const perShift = draws.count / draws.shifts;
  // ln of r M², so that the argument of F is one subtraction a draw.
  const logs = maxima.map((largest) => Math.log(draws.m) + 2 * Math.log(largest));
  const shiftMeans = (c: number): number[] => {
    const doubled = 2 * Math.log(c);
    const means: number[] = [];
    for (let shift = 0; shift < draws.shifts; shift++) {
      let sum = 0;
      for (let i = shift * perShift; i < (shift + 1) * perShift; i++)
        sum += cumulative(doubled - (logs[i] as number));
      means.push(sum / perShift);
    }
    return means;
  };
  const average = (xs: readonly number[]) => xs.reduce((sum, x) => sum + x, 0) / xs.length;
  const value = solveIncreasing(
    (c) => average(shiftMeans(c)) - level,
    tUpperQuantile((1 - level) / 2, df) * 0.9,
    tUpperQuantile((1 - level) / (2 * count), df) * 1.1,
  );
  const means = shiftMeans(value);
  const centre = average(means);
  const spread = Math.sqrt(
    means.reduce((sum, x) => sum + (x - centre) ** 2, 0) / (draws.shifts * (draws.shifts - 1)),
  );
  const step = 1e-3 * value;
  const density = (average(shiftMeans(value + step)) - average(shiftMeans(value - step))) / (2 * step);
  return { value, monteCarloError: spread / density, method: 'max-t', df, pairs: count };
}

/** Šidák's bound for families too large to simulate: 1 − (1 − α)^(1/k). Šidák Z. (1967), JASA 62, 626. */
export function sidakCriticalValue(count: number, df: number, level: number): CriticalValue {
  const alpha = -Math.expm1(Math.log(level) / Math.max(1, count));
  return { value: tUpperQuantile(alpha / 2, df), monteCarloError: 0, method: 'sidak', df, pairs: count };
}

/** Per draw, the common scale √(χ²_df/df) of a multivariate t. */
export function chiScales(draws: Draws, df: number): Float64Array {
  if (!(df < 1e8)) return new Float64Array(draws.count).fill(1);
  const grid = 2000;
  // The quantile is smooth in the uniform; tabulating it costs 2000 inversions instead of one a draw.
  const table = Float64Array.from({ length: grid + 1 }, (_, i) =>
    Math.sqrt(chiSquareLowerQuantile(Math.min(Math.max(i / grid, 1e-6), 1 - 1e-6), df) / df),
  );
  return draws.chiUniform.map((uniform) => {
    const at = uniform * grid;
    const cell = Math.min(grid - 1, Math.floor(at));
    const low = table[cell] as number;
    return low + (at - cell) * ((table[cell + 1] as number) - low);
  });
}

/** Holm's step-down adjusted p-values, in the order given. Holm S. (1979), Scand. J. Statistics 6, 65. */
export function holm(pValues: readonly number[]): number[] {
  const order = pValues.map((_, i) => i).sort((i, j) => (pValues[i] as number) - (pValues[j] as number));
  const adjusted = new Array<number>(pValues.length).fill(1);
  let running = 0;
  order.forEach((index, rank) => {
    running = Math.max(running, Math.min(1, (pValues.length - rank) * (pValues[index] as number)));
    adjusted[index] = running;
  });
  return adjusted;
}

import { factorSemidefinite } from '@/lib/numerics/cholesky';
import { chiSquareLowerQuantile, normalUpperQuantile } from '@/lib/numerics/distributions';
import { createRandom } from '@/lib/numerics/random';

/**
 * Seeded draws for many correlated contrasts at once.
 * Points: randomly shifted Richtmyer lattice with the tent transform, Genz A., Bretz F. (2002), JCGS 11, 950.
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
  return { m, count: total, shifts: SHIFTS, values, radiusSquared, chiUniform };
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

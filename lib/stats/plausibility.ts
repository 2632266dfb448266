import { chiSquareLower, chiSquareUpper } from '@/lib/numerics/distributions';

/** Whether numbers look as measured ones do: last digits, and how far repeated runs lie apart. */

export interface DigitsTest {
  readings: number;
  /** Of digits as uneven, or as even, by chance. */
  pValue: number;
}

const DIGITS = 10;

/**
 * χ² = Σ (n_d − n/10)² / (n/10) on 9 degrees of freedom (Pearson 1900), both tails: twice the smaller, as digits that are
 * dealt out evenly are no more likely than ones that favour 0 and 5. Null for no digits.
 */
export function testLastDigits(lastDigits: readonly number[]): DigitsTest | null {
  if (lastDigits.length === 0) return null;
  const expected = lastDigits.length / DIGITS;
  const counts = new Float64Array(DIGITS);
  for (const digit of lastDigits) counts[digit] = (counts[digit] as number) + 1;
  const statistic = counts.reduce((sum, n) => sum + (n - expected) ** 2 / expected, 0);
  const tail = Math.min(chiSquareUpper(statistic, DIGITS - 1), chiSquareLower(statistic, DIGITS - 1));
  return { readings: lastDigits.length, pValue: Math.min(1, 2 * tail) };
}

export interface SpreadTest {
  runs: number;
  dof: number;
  /** χ² over its degrees of freedom: the variance seen over the one expected. */
  ratio: number;
  /** Of a spread as small by chance. */
  pValue: number;
}

/**
 * Runs of one setup on one day, cell by cell: Σ w (z − z̄)² with w = 1/(v + u²) and z̄ the weighted mean is χ² on n − 1
 * degrees of freedom where runs scatter by v beyond their known u². Null where no cell has two runs.
 *
 * @param cells ln(Wh/km) and its known relative standard uncertainty by run
 * @param v variance of runs of the class beyond u²
 */
export function testSpread(
  cells: Iterable<readonly { z: number; u: number }[]>,
  v: number,
): SpreadTest | null {
  let [statistic, dof, runs] = [0, 0, 0];
  for (const cell of cells) {
    if (cell.length < 2) continue;
    const weights = cell.map(({ u }) => 1 / (v + u * u));
    const whole = weights.reduce((sum, w) => sum + w, 0);
    const mean = cell.reduce((sum, { z }, i) => sum + (weights[i] as number) * z, 0) / whole;
    statistic += cell.reduce((sum, { z }, i) => sum + (weights[i] as number) * (z - mean) ** 2, 0);
    dof += cell.length - 1;
    runs += cell.length;
  }
  if (dof === 0 || !Number.isFinite(statistic)) return null;
  return { runs, dof, ratio: statistic / dof, pValue: chiSquareLower(statistic, dof) };
}
/** The last digit of each number that shows three digits or more: shorter ones hardly vary from run to run. */
export function lastDigitsOf(texts: readonly string[]): number[] {
  return texts.flatMap((text) => {
    const digits = text.replace(/[^0-9]/g, '').replace(/^0+/, '');
    const last = digits.at(-1);
    return digits.length < 3 || last === undefined ? [] : [Number(last)];
  });
}

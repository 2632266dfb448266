/**
 * Cohen's kappa: how far two readers agree beyond what their own shares would give by chance. κ = (p_o − p_e)/(1 − p_e),
 * p_o the observed share of agreement and p_e the one expected of independent readers with the same margins
 * (J. Cohen, Educational and Psychological Measurement 20 (1960) 37–46).
 *
 * Its large-sample standard error where κ is not 0, by J. L. Fleiss, J. Cohen, B. S. Everitt, Psychological Bulletin 72
 * (1969) 323–327: n (1 − p_e)² var = Σ p_ii (1 − (p_i. + p_.i)(1 − κ))² + (1 − κ)² Σ_{i≠j} p_ij (p_.i + p_j.)² −
 * (κ − p_e (1 − κ))².
 */
export interface Kappa {
  count: number;
  observed: number;
  expected: number;
  kappa: number;
  standardError: number;
  /** 95 %, by the normal distribution, cut at −1 and 1. */
  low: number;
  high: number;
}

/** Normal quantile of 0.975. */
const Z95 = 1.959964;

/**
 * `counts[i][j]`: how often the first reader chose i and the second j. Null without pairs, and where both always chose
 * the same one: then nothing but agreement was possible.
 */
export function cohenKappa(counts: readonly (readonly number[])[]): Kappa | null {
  const size = counts.length;
  if (counts.some((row) => row.length !== size)) throw new RangeError('the table of two readers is square');
  const count = sum(counts.flat());
  if (count === 0) return null;
  const p = counts.map((row) => row.map((cell) => cell / count));
  const rows = p.map(sum);
  const columns = rows.map((_, j) => sum(p.map((row) => row[j] as number)));
  const observed = sum(p.map((row, i) => row[i] as number));
  const expected = sum(rows.map((share, i) => share * (columns[i] as number)));
  if (1 - expected < 1e-12) return null;
  const kappa = (observed - expected) / (1 - expected);
  let spread = 0;
  p.forEach((row, i) => {
    row.forEach((share, j) => {
      const margins = (columns[i] as number) + (rows[j] as number);
      spread += i === j ? share * (1 - margins * (1 - kappa)) ** 2 : share * (1 - kappa) ** 2 * margins ** 2;
    });
  });
  const variance = Math.max(0, spread - (kappa - expected * (1 - kappa)) ** 2);
  const standardError = Math.sqrt(variance / count) / (1 - expected);
  const [low, high] = [kappa - Z95 * standardError, kappa + Z95 * standardError];
  return { count, observed, expected, kappa, standardError, low: Math.max(-1, low), high: Math.min(1, high) };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

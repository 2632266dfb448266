import { chiScaleNodes } from './chiScaleNodes';
import { normalLower } from './distributions';
import { solveIncreasing } from './rootFinding';

/**
 * The studentised range by direct double integration:
 *   P(Q ≤ q) = ∫ f(s) W(q s) ds,  W(w) = k ∫ φ(z) [Φ(z) − Φ(z − w)]^(k−1) dz.
 * Tabulated approximations err by up to 7 % at 2 degrees of freedom, so none is used.
 * Definition: Miller R. G. (1981), Simultaneous Statistical Inference, 2nd ed., ch. 2.
 */

/** φ vanishes in double precision beyond this. */
const NORMAL_REACH = 8.6;
const INNER_STEP = 0.1;

/** P(range of k independent standard normals ≤ w), by the trapezoidal rule on an analytic integrand. */
function rangeLower(w: number, k: number): number {
  if (!(w > 0)) return 0;
  if (w > 40) return 1;
  let sum = 0;
  for (let z = -NORMAL_REACH; z <= NORMAL_REACH; z += INNER_STEP) {
    const inside = z > 0 ? normalLower(-(z - w)) - normalLower(-z) : normalLower(z) - normalLower(z - w);
    if (inside > 0) sum += Math.exp(-0.5 * z * z + (k - 1) * Math.log(inside));
  }
  return Math.min(1, (k * INNER_STEP * sum) / Math.sqrt(2 * Math.PI));
}

/**
 * P(Q ≤ q) for k means and df degrees of freedom.
 *
 * @param k number of means, at least 2
 */
export function studentizedRangeLower(q: number, k: number, df: number): number {
  if (!(k >= 2)) throw new RangeError(`a range needs two means or more, got ${k}`);
  const nodes = chiScaleNodes(df);
  let sum = 0;
  for (let i = 0; i < nodes.s.length; i++) {
    sum += (nodes.weight[i] as number) * rangeLower(q * (nodes.s[i] as number), k);
  }
  return Math.min(1, sum);
}

/** The q with P(Q ≤ q) = level. */
export function studentizedRangeQuantile(level: number, k: number, df: number): number {
  let high = 8;
  while (studentizedRangeLower(high, k, df) < level) high *= 2;
  return solveIncreasing((q) => studentizedRangeLower(q, k, df) - level, 0, high);
}

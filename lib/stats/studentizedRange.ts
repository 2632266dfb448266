import { chiScaleNodes } from '@/lib/numerics/chiScaleNodes';
import { normalLower } from '@/lib/numerics/distributions';
import { solveIncreasing } from '@/lib/numerics/rootFinding';

/**
 * The studentised range by direct double integration:
 *   P(Q ≤ q) = ∫ f(s) W(q s) ds,  W(w) = k ∫ φ(z) [Φ(z) − Φ(z − w)]^(k−1) dz.
 * Tabulated approximations err by up to 7 % at 2 degrees of freedom, so none is used.
 * Definition: Miller R. G. (1981), Simultaneous Statistical Inference, 2nd ed., ch. 2.
 */

/** φ vanishes in double precision beyond this; the step is far below the width of the narrowest integrand. */
const NORMAL_REACH = 8.4;
const INNER_STEP = 0.2;
const NODES = Array.from({ length: Math.round((2 * NORMAL_REACH) / INNER_STEP) + 1 }, (_, i) => {
  const z = -NORMAL_REACH + i * INNER_STEP;
  return { z, lower: normalLower(z), upper: normalLower(-z), weight: Math.exp(-0.5 * z * z) };
});
/** Contributions below this cannot reach the result's last digit. */
const NEGLIGIBLE = 1e-17;

/** P(range of k independent standard normals ≤ w), by the trapezoidal rule on an analytic integrand. */
function rangeLower(w: number, k: number): number {
  if (!(w > 0)) return 0;
  if (w > 40) return 1;
  let sum = 0;
  for (const node of NODES) {
    // Differences of the small tail, whichever side that is.
    const inside = node.z > 0 ? normalLower(w - node.z) - node.upper : node.lower - normalLower(node.z - w);
    if (inside > 0) sum += node.weight * inside ** (k - 1);
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
    // The range is at most as likely as k (w φ(0))^(k−1).
    const most = Math.min(1, k * (0.4 * q * (nodes.s[i] as number)) ** (k - 1));
    if ((nodes.weight[i] as number) * most < NEGLIGIBLE) continue;
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

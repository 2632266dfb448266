import { chiScaleNodes } from '@/lib/numerics/chiScaleNodes';
import { normalUpper, tUpperQuantile } from '@/lib/numerics/distributions';
import { solveIncreasing } from '@/lib/numerics/rootFinding';
import type { Variances } from './accumulate';

/**
 * Planning a comparison on the log scale: what a difference D in consumption is, d = ln(1 + D), how well a
 * layout would see it, and how many sessions or cars a wanted power takes.
 */

/**
 * P(T > c) for a noncentral t with df degrees of freedom and noncentrality δ: ∫ f(s) P(Z > c s − δ) ds over the
 * chi density. Johnson N. L., Kotz S., Balakrishnan N. (1995), Continuous Univariate Distributions 2, ch. 31.
 */
export function noncentralTUpper(c: number, df: number, noncentrality: number): number {
  const nodes = chiScaleNodes(df);
  let sum = 0;
  for (let i = 0; i < nodes.s.length; i++) {
    sum += (nodes.weight[i] as number) * normalUpper(c * (nodes.s[i] as number) - noncentrality);
  }
  return sum;
}

/** Power of the two-sided t test, both tails counted, for a true difference with this standard error. */
export function powerOfTest(difference: number, se: number, df: number, level = 0.95): number {
  const critical = tUpperQuantile((1 - level) / 2, df);
  const noncentrality = Math.abs(difference) / se;
  return noncentralTUpper(critical, df, noncentrality) + noncentralTUpper(critical, df, -noncentrality);
}

/** The smallest true difference (log scale) that a comparison with this se and df finds with the wanted power. */
export function detectableDifference(se: number, df: number, power = 0.8, level = 0.95): number {
  if (!(power > 1 - level && power < 1)) throw new RangeError(`power must lie between ${1 - level} and 1`);
  let high = 4;
  while (powerOfTest(high, 1, df, level) < power) high *= 2;
  return se * solveIncreasing((x) => powerOfTest(x, 1, df, level) - power, 0, high);
}

/**
 * How two setups meet: in the same session, in different sessions of one car, or in different cars.
 * The counts are per setup: q cars, m sessions a car, k runs a session.
 */
export type Pairing = 'same session' | 'same car' | 'different cars';

export interface Layout {
  pairing: Pairing;
  cars: number;
  sessions: number;
  runs: number;
}

/**
 * Variance and degrees of freedom of the difference of two setups under a layout (method B9):
 *   same session   2 (v + u²)/(m k)                       df = m − 1
 *   same car       2 (v_S/m + (v + u²)/(m k))             df = 2 (m − 1)
 *   different cars 2 ((v_T + v_C)/q + v_S/(q m) + (v + u²)/(q m k)) df = 2 (q − 1)
 * The degrees of freedom are those of the blocks, the least the layout supports.
 *
 * @param u typical known standard uncertainty of one run, log scale
 */
export function layoutPrecision(layout: Layout, v: Variances, u: number): { variance: number; df: number } {
  const { cars: q, sessions: m, runs: k } = layout;
  const run = v.residual + u * u;
  switch (layout.pairing) {
    case 'same session':
      return { variance: (2 * run) / (m * k), df: m - 1 };
    case 'same car':
      return { variance: 2 * (v.session / m + run / (m * k)), df: 2 * (m - 1) };
    case 'different cars':
      return {
        variance: 2 * ((v.car + v.carLoop) / q + v.session / (q * m) + run / (q * m * k)),
        df: 2 * (q - 1),
      };
  }
}

/** Power of a layout for a true difference d on the log scale; 0 where it has no degrees of freedom. */
export function powerOfLayout(
  layout: Layout,
  difference: number,
  v: Variances,
  u: number,
  level = 0.95,
): number {
  const { variance, df } = layoutPrecision(layout, v, u);
  if (df < 1) return 0;
  return variance > 0 ? powerOfTest(difference, Math.sqrt(variance), df, level) : 1;
}

export interface PlanQuestion {
  pairing: Pairing;
  /** Wanted difference, log scale: ln(1 + 0.03) for 3 %. */
  difference: number;
  power: number;
  variances: Variances;
  u: number;
  /** Runs a setup gets in one session. */
  runsPerSession: number;
  /** Sessions a car gives, for 'different cars'. */
  sessionsPerCar?: number;
  level?: number;
  /** Sessions (or cars) beyond which the answer is "not within reach". */
  most?: number;
}

export interface PlanAnswer {
  layout: Layout;
  runsPerSetup: number;
  power: number;
}

/** The smallest layout that reaches the wanted power; null when `most` blocks do not. */
export function runsNeeded(question: PlanQuestion): PlanAnswer | null {
  const most = question.most ?? 500;
  const level = question.level ?? 0.95;
  const layoutOf = (blocks: number): Layout =>
    question.pairing === 'different cars'
      ? {
          pairing: question.pairing,
          cars: blocks,
          sessions: question.sessionsPerCar ?? 1,
          runs: question.runsPerSession,
        }
      : { pairing: question.pairing, cars: 1, sessions: blocks, runs: question.runsPerSession };
  for (let blocks = 2; blocks <= most; blocks++) {
    const layout = layoutOf(blocks);
    const power = powerOfLayout(layout, question.difference, question.variances, question.u, level);
    if (power >= question.power) {
      return { layout, runsPerSetup: layout.cars * layout.sessions * layout.runs, power };
    }
  }
  return null;
}

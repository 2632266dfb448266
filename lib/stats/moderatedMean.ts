import { factor, inverse, logDeterminant } from '@/lib/numerics/cholesky';
import { tUpperQuantile } from '@/lib/numerics/distributions';
import { fadedWeight } from './moderation';

/** One model's, or one car's, own answer to a question that several can be asked. */
export interface GroupEffect {
  name: string;
  y: number;
  /** Sampling variance of y, and its degrees of freedom; infinite where it is known. */
  variance: number;
  df: number;
  /** What one standard uncertainty of an input that other groups share moves y by, by the input's key. */
  shared?: Readonly<Record<string, number>>;
  /** What one standard uncertainty of a fitted variance that other groups' variances rest on too moves `variance` by. */
  varianceNoise?: Readonly<Record<string, number>>;
}

export interface ModeratedMean {
  k: number;
  /** Variance of the true effect between groups. */
  tau2: number;
  estimate: number;
  se: number;
  df: number;
  interval: [number, number];
  /** For a further group; null with fewer groups than `FURTHER_NEEDS`. */
  further: { sd: number; df: number; interval: [number, number] } | null;
}

/** Groups asked before a pooled number, and before a prediction for a further one (method C6). */
export const POOLED_NEEDS = 3;
export const FURTHER_NEEDS = 5;

/** Believed spread of an effect between models, log scale. Common practice, no source. */
export const DEFAULT_BETWEEN_SD = 0.005;

interface At {
  criterion: number;
  /** V⁻¹ and its product with ones. */
  inverted: Float64Array;
  solved: Float64Array;
  precision: number;
  estimate: number;
}

/**
 * Random effects over groups with the variance between them drawn toward a stated value, y ~ N(μ, D + ΛΛ' + τ²I): REML
 * plus d0 (ln τ² + s0²/τ²) as in moderation.ts, d0 fading with the k − 1 degrees of freedom. Shared inputs correlate
 * the groups through Λ. Degrees of freedom by Satterthwaite, also for a further group (Higgins J. P. T., Thompson S. G.,
 * Spiegelhalter D. J., 2009, JRSS A 172, 137). Null with fewer groups than `POOLED_NEEDS`.
 *
 * @param betweenSd s0; null leaves τ² to the data alone
 */
export function moderatedMean(
  effects: readonly GroupEffect[],
  betweenSd: number | null = DEFAULT_BETWEEN_SD,
  level = 0.95,
): ModeratedMean | null {
  const k = effects.length;
  if (k < POOLED_NEEDS) return null;
  const prior = betweenSd === null ? { d0: 0, s2: 0 } : { d0: fadedWeight(k - 1), s2: betweenSd ** 2 };
  const base = baseCovariance(effects);
  const at = (tau2: number) => evaluateAt(effects, base, tau2, prior);
  const tau2 = minimise((t) => at(t).criterion, typicalVariance(effects), prior.d0 > 0);
  const { inverted, solved, precision, estimate } = at(tau2);
  const variance = 1 / precision;
  const spread = tau2Variance(inverted, solved, precision, k, tau2, prior.d0);
  // ∂variance/∂τ² and ∂variance/∂D_i, from ∂(1'V⁻¹1) = −(V⁻¹1)'∂V(V⁻¹1).
  const squares = solved.map((x) => x * x * variance * variance);
  const slope = squares.reduce((sum, x) => sum + x, 0);
  const own = effects.reduce(
    (sum, e, i) =>
      sum + (Number.isFinite(e.df) ? ((squares[i] as number) ** 2 * 2 * e.variance ** 2) / e.df : 0),
    0,
  );
  const common = commonNoise(effects, squares);
  const dfOf = (whole: number, tauSlope: number) => {
    const noise = tauSlope * tauSlope * spread + own + common;
    return noise > 0 ? Math.min(1e9, Math.max(1, (2 * whole * whole) / noise)) : 1e9;
  };
  const around = (sd: number, df: number): [number, number] => {
    const half = tUpperQuantile((1 - level) / 2, df) * sd;
    return [estimate - half, estimate + half];
  };
  const df = dfOf(variance, slope);
  const se = Math.sqrt(variance);
  const furtherDf = dfOf(variance + tau2, slope + 1);
  const furtherSd = Math.sqrt(variance + tau2);
  return {
    k,
    tau2,
    estimate,
    se,
    df,
    interval: around(se, df),
    further:
      k < FURTHER_NEEDS ? null : { sd: furtherSd, df: furtherDf, interval: around(furtherSd, furtherDf) },
  };
}

/** Variance that the mean's variance has from what several groups' variances rest on: it does not average out. */
function commonNoise(effects: readonly GroupEffect[], slopes: readonly number[] | Float64Array): number {
  const moved = new Map<string, number>();
  effects.forEach(({ varianceNoise = {} }, i) => {
    for (const [key, u] of Object.entries(varianceNoise))
      moved.set(key, (moved.get(key) ?? 0) + (slopes[i] as number) * u);
  });
  return [...moved.values()].reduce((sum, x) => sum + x * x, 0);
}

/** D + ΛΛ', k × k. */
function baseCovariance(effects: readonly GroupEffect[]): Float64Array {
  const k = effects.length;
  const base = new Float64Array(k * k);
  effects.forEach((a, i) => {
    effects.forEach((b, j) => {
      let sum = i === j ? a.variance : 0;
      for (const [key, x] of Object.entries(a.shared ?? {})) sum += x * (b.shared?.[key] ?? 0);
      base[i * k + j] = sum;
    });
  });
  return base;
}

function evaluateAt(
  effects: readonly GroupEffect[],
  base: Float64Array,
  tau2: number,
  prior: { d0: number; s2: number },
): At {
  const k = effects.length;
  const v = base.slice();
  for (let i = 0; i < k; i++) v[i * (k + 1)] = (v[i * (k + 1)] as number) + tau2;
  const lower = factor(v, k);
  const inverted = inverse(lower, k);
  const solved = new Float64Array(k);
  let [precision, weighted, quadratic] = [0, 0, 0];
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      const x = inverted[i * k + j] as number;
      const yj = (effects[j] as GroupEffect).y;
      solved[i] = (solved[i] as number) + x;
      weighted += x * yj;
      quadratic += (effects[i] as GroupEffect).y * x * yj;
    }
    precision += solved[i] as number;
  }
  const penalty = prior.d0 > 0 ? prior.d0 * (Math.log(tau2) + prior.s2 / tau2) : 0;
  const criterion =
    logDeterminant(lower, k) + Math.log(precision) + quadratic - (weighted * weighted) / precision + penalty;
  return { criterion, inverted, solved, precision, estimate: weighted / precision };
}

/** Inverse expected information of τ²: ½ tr(PP) + d0/(2τ⁴), P = V⁻¹ − V⁻¹11'V⁻¹/(1'V⁻¹1). */
function tau2Variance(
  inverted: Float64Array,
  solved: Float64Array,
  precision: number,
  k: number,
  tau2: number,
  d0: number,
): number {
  let trace = 0;
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      const p = (inverted[i * k + j] as number) - ((solved[i] as number) * (solved[j] as number)) / precision;
      trace += p * p;
    }
  }
  const information = trace / 2 + (d0 > 0 ? d0 / (2 * tau2 * tau2) : 0);
  return 1 / information;
}

function typicalVariance(effects: readonly GroupEffect[]): number {
  const mean = effects.reduce((sum, e) => sum + e.y, 0) / effects.length;
  const between = effects.reduce((sum, e) => sum + (e.y - mean) ** 2, 0) / effects.length;
  return between + effects.reduce((sum, e) => sum + e.variance, 0) / effects.length;
}

const GRID = 60;
const DECADES = 6;
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** Least value over τ² by a grid in ln τ² and golden section; 0 too where nothing forbids it. */
function minimise(of: (tau2: number) => number, unit: number, isPositive: boolean): number {
  const from = Math.log(unit) - DECADES * Math.LN10;
  const step = ((DECADES + 1) * Math.LN10) / GRID;
  let best = 0;
  for (let i = 1; i <= GRID; i++) {
    if (of(Math.exp(from + i * step)) < of(Math.exp(from + best * step))) best = i;
  }
  let [low, high] = [from + (best - 1) * step, from + (best + 1) * step];
  while (high - low > 1e-9) {
    const [left, right] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
    if (of(Math.exp(left)) < of(Math.exp(right))) high = right;
    else low = left;
  }
  const found = Math.exp((low + high) / 2);
  return !isPositive && of(0) <= of(found) ? 0 : found;
}

import { chiScaleNodes } from '@/lib/numerics/chiScaleNodes';
import { chiSquareLower, tUpperQuantile } from '@/lib/numerics/distributions';
import { solveIncreasing } from '@/lib/numerics/rootFinding';
import type { Draws } from './maxT';

/** Pairs as flat arrays: the contrast of pair i is value[a] − value[b], with standard error se. */
export interface PairFamily {
  a: Int32Array;
  b: Int32Array;
  se: Float64Array;
}

export interface CriticalValue {
  value: number;
  /** Standard error of `value` from the spread between random shifts; 0 where it is a formula. */
  monteCarloError: number;
  method: 'max-t' | 'sidak' | 'single';
  df: number;
  pairs: number;
}

/** The quantile of max |t| over a family, at any degrees of freedom. */
export interface FamilyQuantile {
  pairs: number;
  method: CriticalValue['method'];
  at: (df: number) => number;
  /** With its Monte Carlo error, which takes longer. */
  describe: (df: number) => CriticalValue;
}

/** Spacing of ln x at which the distribution at known variance is tabulated; cubic between: error below 2e-5. */
const STEP = 0.05;
/** The critical value is smooth in 1/df: solved for at even steps of that, cubic between, from these df on. */
const INVERSE_STEPS = 60;
const LEAST_TABULATED_DF = 2.5;
/** A share of s below which it does not move a chance that anyone reads. */
const NEGLIGIBLE = 1e-9;
/** The table of the radius: ln x² from here on, at so many even steps. */
const RADIUS_FROM = -12;
const RADIUS_STEPS = 6000;
const RADIUS_STEP = 26 / RADIUS_STEPS;

/**
 * Single-step max-t: Hothorn T., Bretz F., Westfall P. (2008), Biometrical Journal 50, 346.
 *
 * At known variance the radius is integrated exactly: with Z ~ N(0, I_r), |Z|² is χ²_r and independent of the
 * direction, so G(x) = P(max |z| ≤ x) = E F_χ²r(x²/M²) over directions only. With s² = χ²_df/df estimated,
 * P(max |t| ≤ c) = E G(c s), and G, which does not hang on the degrees of freedom, is kept.
 *
 * @param level probability that all pairs hold, such as 0.95
 */
export function maxTQuantile(draws: Draws, pairs: PairFamily, level: number): FamilyQuantile {
  const count = pairs.a.length;
  if (count <= 1) return formula('single', count, (df) => tUpperQuantile((1 - level) / 2, df));
  const known = new KnownVariance(draws, pairs);
  const solve = (df: number) =>
    solveIncreasing(
      (c) => known.held(c, df) - level,
      tUpperQuantile((1 - level) / 2, df) * 0.9,
      tUpperQuantile((1 - level) / (2 * count), df) * 1.1,
    );
  const byInverse = new Map<number, number>();
  const node = (index: number): number => {
    const value =
      byInverse.get(index) ?? solve(index === 0 ? Number.POSITIVE_INFINITY : INVERSE_STEPS / index);
    byInverse.set(index, value);
    return value;
  };
  const at = (df: number) => {
    if (df < LEAST_TABULATED_DF) return solve(df);
    const place = INVERSE_STEPS / df;
    const first = Math.max(0, Math.floor(place) - 1);
    return cubic(place - first - 1, node(first), node(first + 1), node(first + 2), node(first + 3));
  };
  const describe = (df: number): CriticalValue => {
    const value = solve(df);
    const means = Array.from({ length: draws.shifts }, (_, shift) => known.held(value, df, shift));
    const centre = means.reduce((sum, x) => sum + x, 0) / draws.shifts;
    const squares = means.reduce((sum, x) => sum + (x - centre) ** 2, 0);
    const step = 1e-2 * value;
    const density = (known.held(value + step, df) - known.held(value - step, df)) / (2 * step);
    const spread = Math.sqrt(squares / (draws.shifts * (draws.shifts - 1)));
    return { value, monteCarloError: spread / density, method: 'max-t', df, pairs: count };
  };
  return { pairs: count, method: 'max-t', at, describe };
}

/** Šidák's bound for families too large to simulate: 1 − (1 − α)^(1/k). Šidák Z. (1967), JASA 62, 626. */
export function sidakQuantile(count: number, level: number): FamilyQuantile {
  const alpha = -Math.expm1(Math.log(level) / Math.max(1, count));
  return formula('sidak', count, (df) => tUpperQuantile(alpha / 2, df));
}

function formula(method: 'single' | 'sidak', pairs: number, at: (df: number) => number): FamilyQuantile {
  return { pairs, method, at, describe: (df) => ({ value: at(df), monteCarloError: 0, method, df, pairs }) };
}

/** Lagrange's cubic through values at −1, 0, 1 and 2. */
function cubic(t: number, y0: number, y1: number, y2: number, y3: number): number {
  return (
    (-t * (t - 1) * (t - 2) * y0) / 6 +
    ((t + 1) * (t - 1) * (t - 2) * y1) / 2 -
    ((t + 1) * t * (t - 2) * y2) / 2 +
    ((t + 1) * t * (t - 1) * y3) / 6
  );
}

/** G(x) of a family over all draws and by random shift, tabulated in ln x as far as it is asked for. */
class KnownVariance {
  private readonly logMaxima: Float64Array;
  private readonly least: number;
  private readonly radius: Float64Array;
  /** By node: G by shift, and its mean last. */
  private readonly nodes = new Map<number, Float64Array>();
  private readonly scales = new Map<number, { logs: Float64Array; weight: Float64Array }>();

  constructor(
    private readonly draws: Draws,
    pairs: PairFamily,
  ) {
    this.logMaxima = logDirectionMaxima(draws, pairs);
    this.least = this.logMaxima.reduce((least, x) => Math.min(least, x), Number.POSITIVE_INFINITY);
    this.radius = radiusTable(draws.m);
  }

  /** P(max |t| ≤ c) at the degrees of freedom given; of one random shift only where one is named. */
  held(c: number, df: number, shift = this.draws.shifts): number {
    const lnC = Math.log(c);
    const { logs, weight } = this.scaleNodes(df);
    let sum = 0;
    for (let i = 0; i < logs.length; i++) {
      sum += (weight[i] as number) * this.interpolate(lnC + (logs[i] as number), shift);
    }
    return sum;
  }

  private interpolate(lnX: number, shift: number): number {
    const at = lnX / STEP;
    const cell = Math.floor(at);
    const t = at - cell;
    const y0 = this.node(cell - 1)[shift] as number;
    const y1 = this.node(cell)[shift] as number;
    const y2 = this.node(cell + 1)[shift] as number;
    const y3 = this.node(cell + 2)[shift] as number;
    return cubic(t, y0, y1, y2, y3);
  }

  private node(index: number): Float64Array {
    const found = this.nodes.get(index);
    if (found !== undefined) return found;
    const { count, shifts } = this.draws;
    const { logMaxima, radius } = this;
    const perShift = count / shifts;
    const values = new Float64Array(shifts + 1);
    this.nodes.set(index, values);
    // ln x² at the node, as a place in the table of the radius
    const from = (2 * index * STEP - RADIUS_FROM) / RADIUS_STEP;
    if (from - (2 / RADIUS_STEP) * this.least <= 0) return values;
    let total = 0;
    for (let shift = 0; shift < shifts; shift++) {
      let sum = 0;
      for (let i = shift * perShift; i < (shift + 1) * perShift; i++) {
        const at = from - (2 / RADIUS_STEP) * (logMaxima[i] as number);
        if (at >= RADIUS_STEPS) sum += 1;
        else if (at > 0) {
          const cell = Math.floor(at);
          const low = radius[cell] as number;
          sum += low + (at - cell) * ((radius[cell + 1] as number) - low);
        }
      }
      values[shift] = sum / perShift;
      total += sum;
    }
    values[shifts] = total / count;
    return values;
  }

  private scaleNodes(df: number): { logs: Float64Array; weight: Float64Array } {
    const found = this.scales.get(df);
    if (found !== undefined) return found;
    const { s, weight } = chiScaleNodes(df);
    const isKept = (_: number, i: number) => (weight[i] as number) > NEGLIGIBLE;
    const nodes = { logs: s.filter(isKept).map(Math.log), weight: weight.filter(isKept) };
    this.scales.set(df, nodes);
    return nodes;
  }
}

const radiusTables = new Map<number, Float64Array>();

/** P(|Z|² ≤ x) of r independent normals on an even grid of ln x, read linearly (error below 1e-6). */
function radiusTable(r: number): Float64Array {
  const known = radiusTables.get(r);
  if (known !== undefined) return known;
  const table = Float64Array.from({ length: RADIUS_STEPS + 1 }, (_, i) =>
    chiSquareLower(Math.exp(RADIUS_FROM + i * RADIUS_STEP), r),
  );
  radiusTables.set(r, table);
  return table;
}

/** ln of the largest |X_a − X_b| / se over the pairs for each draw, less ln of the draw's radius. */
function logDirectionMaxima(draws: Draws, pairs: PairFamily): Float64Array {
  const { a, b } = pairs;
  const inverseSe = pairs.se.map((se) => 1 / se);
  const maxima = new Float64Array(draws.count);
  const { m, values } = draws;
  for (let r = 0; r < draws.count; r++) {
    const row = r * m;
    let largest = 0;
    for (let i = 0; i < a.length; i++) {
      const gap = (values[row + (a[i] as number)] as number) - (values[row + (b[i] as number)] as number);
      const t = gap * (inverseSe[i] as number);
      if (t > largest) largest = t;
      else if (-t > largest) largest = -t;
    }
    maxima[r] = Math.log(largest) - Math.log(draws.radiusSquared[r] as number) / 2;
  }
  return maxima;
}

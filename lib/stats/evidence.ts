import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Evidence } from './groupFit';
import type { Draws } from './maxT';
import {
  type CriticalValue,
  type FamilyQuantile,
  maxTQuantile,
  type PairFamily,
  sidakQuantile,
} from './maxTFamily';

/** A pair with the numbers that enter a family; indices follow the order of the estimates. */
export interface ComparedPair {
  a: number;
  b: number;
  difference: number;
  /** Total standard error and degrees of freedom. */
  se: number;
  df: number;
  /** The model of both, null across models. */
  model: string | null;
}

/** Quantiles by the question asked: the whole class, one model; a pair alone has its own t quantile. */
export interface Families {
  ofClass: FamilyQuantile | null;
  ofModels: Map<string, FamilyQuantile>;
  level: number;
}

/**
 * The families of method B6. Each pair is held against the multivariate t of its family at its own total degrees of
 * freedom: Hasler M., Hothorn L. A. (2008), Biometrical Journal 50, 793. Both families of a pair use the same draws, and
 * the wider one has all pairs of the narrower.
 *
 * @param draws from the total covariance of the estimates; null for groups too large to simulate
 */
export function judgeFamilies(pairs: readonly ComparedPair[], draws: Draws | null, level: number): Families {
  const byModel = new Map<string, ComparedPair[]>();
  for (const pair of pairs) {
    if (pair.model === null) continue;
    const own = byModel.get(pair.model);
    if (own === undefined) byModel.set(pair.model, [pair]);
    else own.push(pair);
  }
  const quantile = (of: readonly ComparedPair[]) =>
    draws === null ? sidakQuantile(of.length, level) : maxTQuantile(draws, asFamily(of), level);
  const ofModels = new Map(
    [...byModel].sort(([a], [b]) => (a < b ? -1 : 1)).map(([model, own]) => [model, quantile(own)]),
  );
  const [only] = ofModels.values();
  // With one model its family is the class's: the same pairs, the same values.
  const isWhole = only !== undefined && ofModels.size === 1 && only.pairs === pairs.length;
  return { ofClass: pairs.length === 0 ? null : isWhole ? only : quantile(pairs), ofModels, level };
}

/** The family's critical value at the smallest degrees of freedom of its pairs: the largest that any of them has. */
export function largestValue(family: FamilyQuantile, pairs: readonly ComparedPair[]): CriticalValue {
  return family.describe(pairs.reduce((least, { df }) => Math.min(least, df), Number.POSITIVE_INFINITY));
}

function asFamily(pairs: readonly ComparedPair[]): PairFamily {
  return {
    a: Int32Array.from(pairs, (p) => p.a),
    b: Int32Array.from(pairs, (p) => p.b),
    se: Float64Array.from(pairs, (p) => p.se),
  };
}

export interface JudgedPair {
  alone: [number, number];
  ofModel: [number, number] | null;
  ofClass: [number, number];
  word: Evidence;
}

/**
 * The three intervals of a pair and the word for it. The critical values are clamped so that alone ≤ model ≤ class in
 * spite of rounding: a difference that is settled is probable, one that is probable leaning.
 */
export function judgePair(pair: ComparedPair, { ofClass, ofModels, level }: Families): JudgedPair {
  const around = (critical: number): [number, number] => [
    pair.difference - critical * pair.se,
    pair.difference + critical * pair.se,
  ];
  const model = pair.model === null ? undefined : ofModels.get(pair.model);
  const single = tUpperQuantile((1 - level) / 2, pair.df);
  const modelValue = model === undefined ? single : Math.max(single, model.at(pair.df));
  const classValue =
    model === ofClass ? modelValue : Math.max(modelValue, (ofClass as FamilyQuantile).at(pair.df));
  const alone = around(single);
  const ofModel = model === undefined ? null : around(modelValue);
  const whole = around(classValue);
  return { alone, ofModel, ofClass: whole, word: wordFor(alone, ofModel, whole) };
}

const leavesZeroOut = ([low, high]: readonly [number, number]) => low > 0 || high < 0;

/** The strength of the evidence by which of its intervals leave 0 out. */
export function wordFor(
  alone: readonly [number, number],
  ofModel: readonly [number, number] | null,
  ofClass: readonly [number, number],
): Evidence {
  if (leavesZeroOut(ofClass)) return 'settled';
  if (ofModel !== null && leavesZeroOut(ofModel)) return 'probable';
  return leavesZeroOut(alone) ? 'leaning' : 'undecided';
}

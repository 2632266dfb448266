import { tUpperQuantile } from '@/lib/numerics/distributions';
import type { Evidence, ModelCriticalValue } from './groupFit';
import { type CriticalValue, criticalValue, type Draws, type PairFamily, sidakCriticalValue } from './maxT';

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

/** Critical values by the question asked: the whole class, one model; a pair alone has its own t quantile. */
export interface Families {
  ofClass: CriticalValue | null;
  ofModels: Map<string, ModelCriticalValue>;
  level: number;
}

/**
 * The families of method B6. Each takes the smallest total degrees of freedom of its pairs (own ones by pair are
 * liberal); the critical values are clamped so that alone ≤ model ≤ class in spite of the Monte Carlo error, and a
 * difference that is settled is probable, one that is probable leaning.
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
  const ofModels = new Map<string, ModelCriticalValue>();
  let least = 0;
  for (const [model, own] of [...byModel].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const found = familyValue(own, draws, level, 0);
    ofModels.set(model, { model, ...found });
    least = Math.max(least, found.value);
  }
  const [only] = ofModels.values();
  // With one model its family is the class's: the same pairs, the same value.
  const isWhole =
    only !== undefined && ofModels.size === 1 && byModel.get(only.model)?.length === pairs.length;
  if (isWhole) {
    const { model: _, ...ofClass } = only;
    return { ofClass, ofModels, level };
  }
  return { ofClass: pairs.length === 0 ? null : familyValue(pairs, draws, level, least), ofModels, level };
}

function familyValue(
  pairs: readonly ComparedPair[],
  draws: Draws | null,
  level: number,
  least: number,
): CriticalValue {
  const df = pairs.reduce((smallest, pair) => Math.min(smallest, pair.df), Number.POSITIVE_INFINITY);
  const found =
    draws === null
      ? sidakCriticalValue(pairs.length, df, level)
      : criticalValue(draws, asFamily(pairs), df, level);
  return { ...found, value: Math.max(found.value, least, tUpperQuantile((1 - level) / 2, df)) };
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

/** The three intervals of a pair and the word for it. */
export function judgePair(pair: ComparedPair, { ofClass, ofModels, level }: Families): JudgedPair {
  const around = (critical: number): [number, number] => [
    pair.difference - critical * pair.se,
    pair.difference + critical * pair.se,
  ];
  const model = pair.model === null ? undefined : ofModels.get(pair.model);
  const alone = around(tUpperQuantile((1 - level) / 2, pair.df));
  const ofModel = model === undefined ? null : around(model.value);
  const whole = around((ofClass as CriticalValue).value);
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

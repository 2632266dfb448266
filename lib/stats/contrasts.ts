import { tTwoSided, tUpperQuantile } from '@/lib/numerics/distributions';
import type { Links } from './connectivity';
import { ENOUGH_DF, LEAST_DF } from './estimates';
import type { Contrast, ContrastKind, Estimate } from './groupFit';
import { contrast, type Inference } from './inference';
import {
  type CriticalValue,
  criticalValue,
  type Draws,
  holm,
  type PairFamily,
  sidakCriticalValue,
} from './maxT';
import { type SharedPart, sharedUncertaintyOfDifference } from './scopes';

export interface ContrastContext {
  inference: Inference | null;
  links: Links;
  estimates: readonly Estimate[];
  sameModel: (a: string, b: string) => boolean;
  /** Physical cars asked on each side across models. */
  leastCars: number;
  carVariationUnknown: boolean;
  level: number;
  draws: Draws | null;
  sharedParts: ((setup: string) => readonly SharedPart[]) | undefined;
}

/** A pair with the numbers that enter the family; indices follow the order of the estimates. */
export interface ComparedPair {
  a: number;
  b: number;
  difference: number;
  se: number;
  df: number;
}

export interface ContrastTable {
  contrasts: Contrast[];
  family: ComparedPair[];
  critical: CriticalValue | null;
}

/** What joins a pair, and whether it may be compared at all (method B4). */
function classify(
  a: number,
  b: number,
  c: ContrastContext,
): { kind: ContrastKind; chainLength: number; reason: Contrast['reason'] } {
  const [left, right] = [c.estimates[a] as Estimate, c.estimates[b] as Estimate];
  const link = c.links.kind(a, b);
  if (link !== 'none') return { kind: link, chainLength: c.links.chainLength(a, b), reason: null };
  if (c.sameModel(left.setup, right.setup)) {
    return { kind: 'none', chainLength: 0, reason: 'no car has driven both' };
  }
  if (c.carVariationUnknown || left.cars < c.leastCars || right.cars < c.leastCars) {
    return { kind: 'none', chainLength: 0, reason: 'too few cars on one side' };
  }
  return { kind: 'across', chainLength: 0, reason: null };
}

/** All pairs with their differences, intervals and the family's critical value. */
export function tabulateContrasts(c: ContrastContext): ContrastTable {
  const contrasts: Contrast[] = [];
  const family: ComparedPair[] = [];
  const place: number[] = [];
  const m = c.estimates.length;
  for (let a = 0; a < m; a++) {
    for (let b = a + 1; b < m; b++) {
      const { kind, chainLength, reason } = classify(a, b, c);
      const names = { a: (c.estimates[a] as Estimate).setup, b: (c.estimates[b] as Estimate).setup };
      const sharedU =
        c.sharedParts === undefined || kind === 'none'
          ? null
          : sharedUncertaintyOfDifference(c.sharedParts(names.a), c.sharedParts(names.b));
      const empty: Contrast = {
        ...names,
        kind,
        chainLength,
        difference: null,
        se: null,
        df: null,
        interval95: null,
        simultaneous: null,
        pHolm: null,
        separable: false,
        sharedU,
        reason,
      };
      if (kind === 'none') {
        contrasts.push(empty);
        continue;
      }
      if (c.inference === null) {
        const difference = (c.estimates[a] as Estimate).beta - (c.estimates[b] as Estimate).beta;
        contrasts.push({ ...empty, difference, reason: 'repeatability unknown' });
        continue;
      }
      const result = contrast(c.inference, [
        [a, 1],
        [b, -1],
      ]);
      const df = Math.min(result.df, 1e9);
      const half = df >= LEAST_DF ? tUpperQuantile((1 - c.level) / 2, df) * result.se : Number.NaN;
      contrasts.push({
        ...empty,
        difference: result.difference,
        se: result.se,
        df: df >= LEAST_DF ? df : null,
        interval95: df >= LEAST_DF ? [result.difference - half, result.difference + half] : null,
        reason: df < ENOUGH_DF ? 'too few data' : null,
      });
      if (df >= ENOUGH_DF && result.se > 0) {
        family.push({ a, b, difference: result.difference, se: result.se, df });
        place.push(contrasts.length - 1);
      }
    }
  }
  if (family.length === 0) return { contrasts, family, critical: null };
  const familyDf = family.reduce((least, pair) => Math.min(least, pair.df), Number.POSITIVE_INFINITY);
  const critical =
    c.draws === null
      ? sidakCriticalValue(family.length, familyDf, c.level)
      : criticalValue(c.draws, asFamily(family), familyDf, c.level);
  const adjusted = holm(family.map((pair) => tTwoSided(pair.difference / pair.se, pair.df)));
  family.forEach((pair, i) => {
    const at = contrasts[place[i] as number] as Contrast;
    const half = critical.value * pair.se;
    at.simultaneous = [pair.difference - half, pair.difference + half];
    at.separable = Math.abs(pair.difference) > half;
    at.pHolm = adjusted[i] as number;
  });
  return { contrasts, family, critical };
}

function asFamily(pairs: readonly ComparedPair[]): PairFamily {
  return {
    a: Int32Array.from(pairs, (p) => p.a),
    b: Int32Array.from(pairs, (p) => p.b),
    se: Float64Array.from(pairs, (p) => p.se),
  };
}

import type { Links } from './connectivity';
import { ENOUGH_DF, LEAST_DF } from './estimates';
import { type ComparedPair, type Families, judgeFamilies, judgePair } from './evidence';
import type { Contrast, ContrastKind, Estimate } from './groupFit';
import type { Draws } from './maxT';
import { type TotalInference, totalContrast } from './totalInference';

export interface ContrastContext {
  inference: TotalInference | null;
  links: Links;
  estimates: readonly Estimate[];
  modelOf: (setup: string) => string;
  /** Physical cars asked on each side across models. */
  leastCars: number;
  carVariationUnknown: boolean;
  level: number;
  draws: Draws | null;
}

export interface ContrastTable {
  contrasts: Contrast[];
  /** Pairs with an interval. */
  pairs: ComparedPair[];
  families: Families;
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
  if (c.modelOf(left.setup) === c.modelOf(right.setup)) {
    return { kind: 'none', chainLength: 0, reason: 'no car has driven both' };
  }
  if (c.carVariationUnknown || left.cars < c.leastCars || right.cars < c.leastCars) {
    return { kind: 'none', chainLength: 0, reason: 'too few cars on one side' };
  }
  return { kind: 'across', chainLength: 0, reason: null };
}

/** All pairs with their differences, three intervals each and the word for the strength of the evidence. */
export function tabulateContrasts(c: ContrastContext): ContrastTable {
  const contrasts: Contrast[] = [];
  const pairs: ComparedPair[] = [];
  const place: number[] = [];
  const m = c.estimates.length;
  for (let a = 0; a < m; a++) {
    for (let b = a + 1; b < m; b++) {
      const found = describePair(a, b, c);
      if (found.pair !== null) {
        pairs.push(found.pair);
        place.push(contrasts.length);
      }
      contrasts.push(found.contrast);
    }
  }
  const families = judgeFamilies(pairs, c.draws, c.level);
  pairs.forEach((pair, i) => {
    const judged = judgePair(pair, families);
    const at = contrasts[place[i] as number] as Contrast;
    at.interval95 = judged.alone;
    at.modelInterval = judged.ofModel;
    at.simultaneous = judged.ofClass;
    at.word = judged.word;
  });
  return { contrasts, pairs, families };
}

function describePair(
  a: number,
  b: number,
  c: ContrastContext,
): { contrast: Contrast; pair: ComparedPair | null } {
  const [left, right] = [c.estimates[a] as Estimate, c.estimates[b] as Estimate];
  const { kind, chainLength, reason } = classify(a, b, c);
  const empty: Contrast = {
    a: left.setup,
    b: right.setup,
    kind,
    chainLength,
    difference: null,
    se: null,
    df: null,
    sharedSe: null,
    interval95: null,
    modelInterval: null,
    simultaneous: null,
    word: null,
    restsOn: [],
    reason,
  };
  if (kind === 'none') return { contrast: empty, pair: null };
  if (c.inference === null) {
    const difference = left.beta - right.beta;
    return { contrast: { ...empty, difference, reason: 'repeatability unknown' }, pair: null };
  }
  const terms = [[a, 1] as const, [b, -1] as const];
  const { difference, se, df: exact, sharedSe } = totalContrast(c.inference, terms);
  const df = Math.min(exact, 1e9);
  const contrast = { ...empty, difference, se, sharedSe, df: df >= LEAST_DF ? df : null };
  if (!(df >= ENOUGH_DF)) return { contrast: { ...contrast, reason: 'too few data' }, pair: null };
  if (!(se > 0)) return { contrast, pair: null };
  const model = c.modelOf(left.setup) === c.modelOf(right.setup) ? c.modelOf(left.setup) : null;
  return { contrast, pair: { a, b, difference, se, df, model } };
}

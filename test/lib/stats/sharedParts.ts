import type { RunPart } from '@/lib/reduction/runParts';

/**
 * The law of propagation for parts that runs share, written out: an input is one random variable in every result that
 * shares its key, so u²(difference) = Σ_key (c₁ − c₂)² u² (JCGM 100:2008, 5.2 with correlation 1 within a key).
 */
export type SharedPart = RunPart;

function keyOf(part: SharedPart): string {
  return `${part.input}\u0000${part.scope}\u0000${part.key}`;
}

function gather(parts: readonly SharedPart[]): Map<string, number> {
  const sums = new Map<string, number>();
  for (const part of parts) sums.set(keyOf(part), (sums.get(keyOf(part)) ?? 0) + part.contribution);
  return sums;
}

/** Standard uncertainty of one result from its shared parts, log scale. */
export function sharedUncertainty(parts: readonly SharedPart[]): number {
  let sum = 0;
  for (const value of gather(parts).values()) sum += value * value;
  return Math.sqrt(sum);
}

/** Standard uncertainty of the difference of two results from their shared parts, log scale. */
export function sharedUncertaintyOfDifference(a: readonly SharedPart[], b: readonly SharedPart[]): number {
  const left = gather(a);
  const right = gather(b);
  let sum = 0;
  for (const key of new Set([...left.keys(), ...right.keys()])) {
    sum += ((left.get(key) ?? 0) - (right.get(key) ?? 0)) ** 2;
  }
  return Math.sqrt(sum);
}

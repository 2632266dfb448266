import { type RunPart, runParts } from '@/lib/reduction/runParts';
import { readReduction } from '@/lib/reduction/stored';
import type { NewCountedRun, WideResult } from '@/lib/store/countedRuns';
import type { Prisma } from '@/prisma/generated/client';

/**
 * What counts of an approved run under one version of the method. A run without a result under it, or outside the
 * method's reach, counts as a run without a number; so does one whose result cannot be read, since nobody knows what it
 * has in common with others.
 */
export function countedRow(wide: WideResult, methodVersion: string): NewCountedRun {
  const { decidedAt, computedAt, isNormalised, normalisedWhPerKm, uRunRelative, result, ...same } = wide;
  const read = readReduction(result);
  const isComplete =
    isNormalised === true && normalisedWhPerKm !== null && uRunRelative !== null && read !== undefined;
  const parts = isComplete ? runParts(same, read.normalisation) : [];
  return {
    ...same,
    methodVersion,
    z: isComplete ? Math.log(normalisedWhPerKm) : null,
    u: isComplete ? uRunRelative : null,
    uWhPerKm: isComplete ? same.uWhPerKm : null,
    effectiveDof: isComplete ? same.effectiveDof : null,
    parts: parts as unknown as Prisma.InputJsonArray,
    countedAt: later(decidedAt, computedAt),
  };
}

/** The column `parts` as this file wrote it, through JSON. */
export function readParts(stored: unknown): RunPart[] {
  return stored as RunPart[];
}

function later(a: Date | null, b: Date | null): Date {
  return new Date(Math.max(a?.getTime() ?? 0, b?.getTime() ?? 0));
}

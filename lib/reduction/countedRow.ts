import { type RunPart, runParts } from './runParts';
import type { ReadReduction } from './stored';

/** An approved run's approved revision in the wide record, with its result under one version if it has one. */
export interface WideResult {
  runId: string;
  number: number;
  world: string;
  cruiseClassKey: string;
  setupId: string;
  modelId: string;
  carId: string;
  sessionId: string;
  loopId: string;
  testerId: string;
  /** As published. */
  day: Date;
  monthOnly: boolean;
  decidedAt: Date | null;
  computedAt: Date | null;
  measuredWhPerKm: number | null;
  normalisedWhPerKm: number | null;
  uWhPerKm: number | null;
  uRunRelative: number | null;
  effectiveDof: number | null;
  isNormalised: boolean | null;
  /** As stated with the revision; null where nothing is known of it, and the direction of calm air. */
  windSpeedMps: number | null;
  windFromDeg: number | null;
  /** Undefined where there is none, and where it cannot be read. */
  result: ReadReduction | undefined;
}

/** What the table of counted runs holds of it. */
export type CountedRow = Omit<
  WideResult,
  'decidedAt' | 'computedAt' | 'isNormalised' | 'normalisedWhPerKm' | 'uRunRelative' | 'result'
> & {
  methodVersion: string;
  /** ln of the normalised consumption in Wh/km; null, like what follows from it, for a run without a number. */
  z: number | null;
  /** Relative standard uncertainty of the run's own part. */
  u: number | null;
  parts: RunPart[];
  /** When it was decided on or computed, whichever was later. */
  countedAt: Date;
};

/**
 * What counts of an approved run under one version of the method. A run without a result under it, or outside the
 * method's reach, counts as a run without a number; so does one whose result cannot be read, since nobody knows what it
 * has in common with others.
 */
export function countedRow(wide: WideResult, methodVersion: string): CountedRow {
  const { decidedAt, computedAt, isNormalised, normalisedWhPerKm, uRunRelative, result, ...same } = wide;
  const isComplete =
    isNormalised === true && normalisedWhPerKm !== null && uRunRelative !== null && result !== undefined;
  const parts = isComplete ? runParts(same, result.normalisation) : [];
  return {
    ...same,
    methodVersion,
    z: isComplete ? Math.log(normalisedWhPerKm) : null,
    u: isComplete ? uRunRelative : null,
    uWhPerKm: isComplete ? same.uWhPerKm : null,
    effectiveDof: isComplete ? same.effectiveDof : null,
    parts,
    countedAt: later(decidedAt, computedAt),
  };
}

function later(a: Date | null, b: Date | null): Date {
  return new Date(Math.max(a?.getTime() ?? 0, b?.getTime() ?? 0));
}
